package main

import (
	"encoding/json"
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestVersion(t *testing.T) {
	got := tightwright(t, "", "version")
	require.Equal(t, codeOK, got.code)
	require.Regexp(t, `^tightwright \S+(, source [^,]+)?, go\S+, \w+/\w+, rules \d+\n$`, got.stdout)
	var v versionInfo
	require.NoError(t, json.Unmarshal([]byte(tightwright(t, "", "version", "--json").stdout), &v))
	require.NotEmpty(t, v.Version)
	require.Positive(t, v.Engine)
}

func TestVersionOfBuild(t *testing.T) {
	changed := &debug.BuildInfo{Settings: []debug.BuildSetting{{Key: "vcs.modified", Value: "true"}, {Key: "vcs.revision", Value: "abc"}}}
	changed.Main.Version = "(devel)"
	for _, tt := range []struct {
		name            string
		info            *debug.BuildInfo
		known           bool
		version, source string
	}{
		{"unknown", nil, false, "development", ""},
		{"from a checkout with changes", changed, true, "development", "abc modified"},
		{"released", &debug.BuildInfo{Main: debug.Module{Version: "v1.2.3"}}, true, "v1.2.3", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v := thisVersion(tt.info, tt.known)
			require.Equal(t, tt.version, v.Version)
			require.Equal(t, tt.source, v.Source)
		})
	}
}
