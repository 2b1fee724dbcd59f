package main

import "github.com/spf13/cobra"

// subcommands lists the commands, each made in a file of its own.
func subcommands() []*cobra.Command {
	return []*cobra.Command{
		newConvertCommand(),
		newMarkingCommand(),
		newThreadCommand(),
		newJointCommand(),
		newPrepCommand(),
		newClampCommand(),
		newSplineCommand(),
		newTaperCommand(),
		newSettingCommand(),
		newDecideCommand(),
		newFitCommand(),
		newMaterialsCommand(),
		newPlanCommand(),
		newWholeCommand(),
		newCardCommand(),
		newAuditCommand(),
		newTeachCommand(),
		newCatalogueCommand(),
		newServeCommand(),
		newDemoCommand(),
		newExportCommand(),
		newVersionCommand(),
	}
}

// wantsJSON reports whether --json was given.
func wantsJSON(cmd *cobra.Command) bool {
	on, err := cmd.Flags().GetBool("json")
	return err == nil && on
}
