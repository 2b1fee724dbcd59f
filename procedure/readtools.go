package procedure

import (
	"fmt"
	"strings"
)

// maxTools bounds a rack, so that a plan stays readable.
const maxTools = 500

// ReadTools reads the tools of a rack, which is a list, from YAML or JSON, as
// strictly as ReadDefinition, and checks each (see Tool.Check). An id that
// stands twice is reported too. Times are written as RFC 3339 has them, such
// as 2025-03-03T09:00:00Z.
func ReadTools(file string, data []byte) ([]Tool, error) {
	var tools []Tool
	if err := readFile(file, data, &tools, func() error { return checkRack(tools) }); err != nil {
		return nil, firstEach(err)
	}
	return tools, nil
}

// WriteTools writes the tools of a rack in the one form of this package.
func WriteTools(tools []Tool) ([]byte, error) { return writeYAML(tools) }

func checkRack(tools []Tool) error {
	var p problems
	if len(tools) > maxTools {
		p.add("", "too-many", "a rack has at most %d tools, not %d", maxTools, len(tools))
	}
	first := map[string]int{}
	for i := range tools {
		path := fmt.Sprintf("[%d]", i)
		if before, twice := first[tools[i].ID]; twice {
			p.add(path+".id", "duplicate-id", "[%d] has the id %q already", before, tools[i].ID)
		} else {
			first[tools[i].ID] = i
		}
		p.take(path, tools[i].Check())
	}
	return p.err()
}

// firstEach keeps the first mistake of each field: a field that could not be
// read is not called missing as well. Of a time it says what to write instead.
func firstEach(err error) error {
	var p problems
	seen := map[string]bool{}
	for _, fe := range FieldErrors(err) {
		if seen[fe.Path] && fe.Path != "" {
			continue
		}
		seen[fe.Path] = true
		mended := *fe
		if strings.HasPrefix(fe.Text, "parsing time") || strings.HasPrefix(fe.Text, "Time.UnmarshalText") {
			mended.Rule, mended.Text = "malformed-time", "write a time such as 2025-03-03T09:00:00Z, with its zone"
		}
		p.errs = append(p.errs, &mended)
	}
	return p.err()
}
