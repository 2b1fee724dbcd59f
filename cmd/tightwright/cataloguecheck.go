package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

func newCatalogueCheckCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check [PATH...]",
		Short: "Check procedure files and say how to mend them",
		Long: `Check procedures: every word, reference, figure and circle. Each finding is a
line with the file, the line in it, the field and the mend.

A PATH is a folder with a whole catalogue, or one procedure file, which is then
checked against the built-in joint table, parts and skills. Without a PATH the
built-in catalogue is checked.

Exit code 1 means that something was found.`,
		Example: `  tightwright catalogue check
  tightwright catalogue check my-procedure.yaml
  tightwright catalogue check shop/catalogue --json`,
		RunE: func(cmd *cobra.Command, paths []string) error {
			checked, err := checkPaths(cmd, paths)
			if err != nil {
				return refused(cmd, err)
			}
			return checked.report(cmd)
		},
	}
	return cmd
}

// A checkReport is what a check found and how much it looked at.
type checkReport struct {
	procedures int
	findings   []errorField
}

func checkPaths(cmd *cobra.Command, paths []string) (*checkReport, error) {
	report := &checkReport{findings: []errorField{}}
	if len(paths) == 0 {
		return report, report.folder("")
	}
	for _, path := range paths {
		info, err := os.Stat(path)
		switch {
		case err != nil && path != "-":
			return nil, wrong(reasonBadFile, "%s", err)
		case err == nil && info.IsDir():
			err = report.folder(path)
		default:
			err = report.file(cmd, path)
		}
		if err != nil {
			return nil, err
		}
	}
	return report, nil
}

func (r *checkReport) folder(path string) error {
	known, err := loadCatalogue(path)
	if err != nil {
		return r.take(err)
	}
	r.procedures += len(known.Definitions)
	return nil
}

// file checks one procedure against what is built in.
func (r *checkReport) file(cmd *cobra.Command, path string) error {
	data, err := readInput(cmd, path, procedure.MaxFileBytes)
	if err != nil {
		return err
	}
	known, err := catalogue.Load()
	if err != nil {
		return err
	}
	r.procedures++
	definition, err := procedure.ReadDefinition(path, data)
	if err != nil {
		return r.take(err)
	}
	if err := errors.Join(definition.TakeSkills(known.Skills), definition.TakeContacts(known.Contacts)); err != nil {
		return r.take(procedure.Locate(err, path, data))
	}
	err = procedure.CheckDefinition(definition, known.Joints, known.Vocabulary, known.Definitions)
	return r.take(procedure.Locate(err, path, data))
}

// take adds the mistakes in err; an error that is none is returned.
func (r *checkReport) take(err error) error {
	fields := errorFields(err)
	if err != nil && len(fields) == 0 {
		return err
	}
	r.findings = append(r.findings, fields...)
	return nil
}

func (r *checkReport) report(cmd *cobra.Command) error {
	var err error
	if wantsJSON(cmd) {
		err = writeJSON(cmd, r.findings)
	} else {
		err = writeText(cmd, r.words())
	}
	if err == nil && len(r.findings) > 0 {
		return finding("%s to be mended", isAre(len(r.findings), "finding"))
	}
	return err
}

func (r *checkReport) words() string {
	if len(r.findings) == 0 {
		return fmt.Sprintf("Checked %s: nothing to mend.\n", counted(r.procedures, "procedure"))
	}
	var p page
	for _, f := range r.findings {
		p.line("%s: %s", f.place(), printable(f.Text))
	}
	return p.String()
}

// place is file:line:field as far as they are known.
func (f errorField) place() string {
	place := f.File
	if f.Line > 0 {
		place += fmt.Sprintf(":%d", f.Line)
	}
	if f.Field != "" {
		place += ":" + f.Field
	}
	return place
}

// loadCatalogue returns the procedures that come with the program, or those of
// a folder; mistakes name files by the folder's path.
func loadCatalogue(folder string) (*catalogue.Catalogue, error) {
	if folder == "" {
		return catalogue.Load()
	}
	if info, err := os.Stat(folder); err != nil {
		return nil, wrong(reasonBadFile, "%s", err)
	} else if !info.IsDir() {
		return nil, wrong(reasonBadFile, "%s is not a folder", folder)
	}
	known, err := catalogue.Load(catalogue.Layer{Name: filepath.Base(folder), Files: os.DirFS(folder)})
	if err == nil {
		return known, nil
	}
	if missing, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, wrong(reasonBadFile, "%s has no file %s", folder, missing.Path)
	}
	return nil, underFolder(folder, err)
}

// underFolder writes the folder before the files that mistakes stand in.
func underFolder(folder string, err error) error {
	fields := procedure.FieldErrors(err)
	if len(fields) == 0 {
		return wrong(reasonBadFile, "%s: %s", folder, strings.TrimPrefix(err.Error(), "load catalogue: "))
	}
	var errs []error
	for _, fe := range fields {
		located := *fe
		located.File = filepath.Join(folder, fe.File)
		errs = append(errs, &located)
	}
	return errors.Join(errs...)
}
