package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

const catalogueUsage = "lay the procedures of this `FOLDER` over the built-in ones"

func newCatalogueCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "catalogue",
		Short: "List, show and check procedures",
		Long: `List the procedures, show one of them, or check procedure files.

A shop's own folder lies over the built-in procedures and holds only what
differs: ` + catalogue.ProceduresFolder + `/ with a YAML file for each procedure, named after its id,
` + catalogue.JointsFolder + `/, ` + catalogue.ContactsFolder + `/ and ` + catalogue.PartsFolder + `/ with rows of the tables, and ` + catalogue.SkillsFile + `.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return refused(cmd, wrong(reasonWrongArguments, "there is no catalogue %s: there are list, show and check", clipped(args[0])))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newCatalogueListCommand(), newCatalogueShowCommand(), newCatalogueCheckCommand())
	return cmd
}

func newCatalogueListCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:               "list",
		Short:             "List the procedures",
		Example:           "  tightwright catalogue list\n  tightwright catalogue list --json",
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	folder := cmd.Flags().String("catalogue", "", catalogueUsage)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		rows, err := listProcedures(*folder)
		if err != nil {
			return refused(cmd, err)
		}
		if wantsJSON(cmd) {
			return writeJSON(cmd, rows)
		}
		return writeText(cmd, listText(rows))
	}
	return cmd
}

// A procedureRow is one procedure in the list.
type procedureRow struct {
	ID       string         `json:"id"`
	Title    string         `json:"title"`
	Edition  int            `json:"edition"`
	Revision string         `json:"revision"`
	Risk     procedure.Risk `json:"risk"`
	Minutes  int            `json:"minutes"`
	Steps    int            `json:"steps"`
	Roles    []string       `json:"roles"`
	About    string         `json:"about"`
}

func listProcedures(folder string) ([]procedureRow, error) {
	known, err := loadCatalogue(folder)
	if err != nil {
		return nil, err
	}
	rows := []procedureRow{}
	for _, id := range known.IDs() {
		r, err := known.Resolve(id)
		if err != nil {
			return nil, err
		}
		rows = append(rows, procedureRow{ID: r.ID, Title: r.Title, Edition: r.Edition, Revision: r.Revision.String(),
			Risk: r.Risk, Minutes: r.Minutes, Steps: len(r.Steps), Roles: r.Roles, About: r.About})
	}
	return rows, nil
}

func listText(rows []procedureRow) string {
	var p page
	column := 2
	for _, r := range rows {
		column = max(column, len(r.ID)+2)
	}
	for _, r := range rows {
		p.hang(r.ID, column, fmt.Sprintf("%s. Edition %d, revision %s; %s; %s, about %s.", r.Title, r.Edition, short(r.Revision),
			r.Risk, counted(r.Steps, "step"), counted(r.Minutes, "minute")))
	}
	if len(rows) == 0 {
		p.line("There is no procedure.")
	}
	return p.String()
}

func newCatalogueShowCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "show ID",
		Short: "Show a procedure as its author wrote it",
		Long: `Show a procedure as its author wrote it, for any bike: what the build sheet
has to say, and each step with the conditions under which it holds. To see it
for one bike, use "tightwright plan".`,
		Example:           "  tightwright catalogue show pedals\n  tightwright catalogue show pedals --json",
		Args:              oneArgument("show takes the id of one procedure, as in: catalogue show pedals"),
		ValidArgsFunction: completeProcedure,
	}
	folder := cmd.Flags().String("catalogue", "", catalogueUsage)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		known, resolved, err := findProcedure(*folder, args[0])
		if err != nil {
			return refused(cmd, err)
		}
		if wantsJSON(cmd) {
			return writeJSON(cmd, resolved)
		}
		return writeText(cmd, procedureText(known, resolved))
	}
	return cmd
}

// findProcedure loads a catalogue and one procedure of it.
func findProcedure(folder, id string) (*catalogue.Catalogue, *procedure.Resolved, error) {
	known, err := loadCatalogue(folder)
	if err != nil {
		return nil, nil, err
	}
	if _, ok := known.Definition(id); !ok {
		return nil, nil, unknownProcedure(known, id)
	}
	resolved, err := known.Resolve(id)
	return known, resolved, err
}

func unknownProcedure(known *catalogue.Catalogue, id string) error {
	return wrong(reasonNotFound, "there is no procedure %q: there are %s", clipped(id), strings.Join(known.IDs(), ", "))
}
