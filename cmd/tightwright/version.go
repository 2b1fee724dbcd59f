package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
)

func newVersionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Say which version this is",
		Long: `Say which version this is, from which source it was built, and which rules it
plans and judges by: their number stands in every plan.`,
		Example:           "  tightwright version\n  tightwright version --json",
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, _ []string) error {
			v := thisVersion(debug.ReadBuildInfo())
			if wantsJSON(cmd) {
				return writeJSON(cmd, v)
			}
			return writeText(cmd, v.words())
		},
	}
}

// A versionInfo says what is running.
type versionInfo struct {
	Version string `json:"version"`
	// Source is the revision of the source, with "modified" behind it where
	// files were changed; empty when the build does not say.
	Source string `json:"source,omitempty"`
	Go     string `json:"go"`
	System string `json:"system"`
	Engine int    `json:"engine"`
}

func thisVersion(info *debug.BuildInfo, known bool) versionInfo {
	v := versionInfo{Version: "development", Go: runtime.Version(),
		System: runtime.GOOS + "/" + runtime.GOARCH, Engine: procedure.EngineVersion}
	if !known {
		return v
	}
	if info.Main.Version != "" && info.Main.Version != "(devel)" {
		v.Version = info.Main.Version
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			v.Source = s.Value + v.Source
		case s.Key == "vcs.modified" && s.Value == "true":
			v.Source += " modified"
		}
	}
	return v
}

func (v versionInfo) words() string {
	text := "tightwright " + v.Version
	if v.Source != "" {
		text += ", source " + v.Source
	}
	return fmt.Sprintf("%s, %s, %s, rules %d\n", text, v.Go, v.System, v.Engine)
}
