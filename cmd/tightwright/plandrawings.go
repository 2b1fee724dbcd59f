package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/sketch"
)

// writeDrawings writes the drawings of every step into a folder, which is made
// where it is missing; an empty name asks for none. The files sort as the steps
// do: 07-tighten-stem-order.svg.
func writeDrawings(folder string, plan *procedure.Plan) error {
	if folder == "" {
		return nil
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return wrong(reasonBadFile, "drawings: %s", err)
	}
	for i := range plan.Steps {
		step := plan.Steps[i].ID
		drawings, err := sketch.Step(plan, step)
		if err != nil {
			return err
		}
		for _, d := range drawings {
			name := filepath.Join(folder, fmt.Sprintf("%02d-%s-%s.svg", i+1, step, d.Name))
			if err := writeWhole(name, d.SVG); err != nil {
				return wrong(reasonBadFile, "drawings: %s", err)
			}
		}
	}
	return nil
}
