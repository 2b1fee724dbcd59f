package main

import (
	"errors"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"
)

// A drawable answer can be drawn as well as written.
type drawable interface {
	answer
	// drawing returns the drawing as SVG.
	drawing() ([]byte, error)
}

// withDrawing completes cmd to one that runs the calculation and, where --svg
// names a file, draws the answer into it. Every answer of the calculation is
// drawable.
//
// The flag is a persistent one, so that it counts as one of those that say
// nothing about the calculation and is no column of the CSV: a row cannot name a
// file to be written.
func withDrawing(c calculation, cmd *cobra.Command) *cobra.Command {
	cmd.PersistentFlags().String("svg", "", "also draw the answer into `FILE`, as SVG")
	work := c.work
	c.work = func(in inputs) (answer, error) {
		out, err := work(in)
		if err != nil {
			return nil, err
		}
		return out, drawTo(cmd.Flag("svg").Value.String(), out)
	}
	cmd = c.command(cmd)
	run := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, raw []string) error {
		flags, _, asRows := sortArgs(cmd.Flags(), raw)
		if asRows && hasSVG(flags) {
			return refused(cmd, wrong(reasonBadOption, "svg draws one answer: leave it out with rows of CSV"))
		}
		return run(cmd, raw)
	}
	return cmd
}

func hasSVG(flags []string) bool {
	for _, flag := range flags {
		if flag == "--svg" || strings.HasPrefix(flag, "--svg=") {
			return true
		}
	}
	return false
}

// drawTo draws an answer into a file; an empty name asks for none.
func drawTo(name string, out answer) error {
	d, ok := out.(drawable)
	if name == "" || !ok {
		return nil
	}
	svg, err := d.drawing()
	if err != nil {
		return err
	}
	if err := writeWhole(name, svg); err != nil {
		return wrong(reasonBadFile, "svg: %s", err)
	}
	return nil
}

// writeWhole writes beside the file and moves the whole into place, so that there
// is never half a drawing under its name.
func writeWhole(name string, data []byte) (err error) {
	part := name + ".part"
	file, err := os.OpenFile(part, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	defer func() {
		if err == nil {
			return
		}
		if rm := os.Remove(part); rm != nil && !errors.Is(rm, fs.ErrNotExist) {
			err = errors.Join(err, rm)
		}
	}()
	if _, err := file.Write(data); err != nil {
		return errors.Join(err, file.Close())
	}
	if err := errors.Join(file.Sync(), file.Close()); err != nil {
		return err
	}
	return os.Rename(part, name)
}
