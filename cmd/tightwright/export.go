package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
)

type exportFlags struct{ store, workshop, out string }

func newExportCommand() *cobra.Command {
	var flags exportFlags
	cmd := &cobra.Command{
		Use:   "export",
		Short: "Write a workshop's record to a file, to be audited or kept elsewhere",
		Long: `Write the record of a stopped server to a file: the rack, who held which rank,
the plans and every entry, byte for byte as they are stored. No name and no free
text is in it. The audit command reads such a file.`,
		Example: `  tightwright export --store shop.db --out shop.record.jsonl
  tightwright export --store shop.db | tightwright audit -`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runExport(cmd, flags) },
	}
	cmd.Flags().StringVar(&flags.store, "store", "", "the `FILE` of the store")
	cmd.Flags().StringVar(&flags.workshop, "workshop", defaultWorkshop, "the `ID` of the workshop")
	cmd.Flags().StringVar(&flags.out, "out", "-", "the `FILE` to write; - is standard output")
	return cmd
}

func runExport(cmd *cobra.Command, flags exportFlags) (err error) {
	if _, err := os.Stat(flags.store); err != nil {
		return refused(cmd, wrong(reasonBadFile, "give the file of the store with --store: %s", err))
	}
	st, err := openStore(cmd, flags.store)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()
	if flags.out == "-" {
		return exportTo(cmd.Context(), st, flags.workshop, cmd.OutOrStdout())
	}
	return exportFile(cmd.Context(), st, flags.workshop, flags.out)
}

// exportFile writes beside the file and moves the whole into place, so that
// there is never half an export under its name.
func exportFile(ctx context.Context, st store.Store, workshop, name string) error {
	part := name + ".part"
	file, err := os.OpenFile(part, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o600)
	if err != nil {
		return badInput("%s", err)
	}
	err = errors.Join(exportTo(ctx, st, workshop, file), file.Sync(), file.Close())
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		if rm := os.Remove(part); rm != nil && !errors.Is(rm, fs.ErrNotExist) {
			err = errors.Join(err, rm)
		}
		if exit, ok := errors.AsType[*exitError](err); ok {
			return exit
		}
		return finding("%s", err)
	}
	return nil
}

func exportTo(ctx context.Context, st store.Store, workshop string, out io.Writer) error {
	w, err := newRecordWriter(out)
	if err != nil {
		return finding("%s", err)
	}
	if err := server.Export(ctx, st, workshop, recordSink{w}); err != nil {
		return finding("%s", err)
	}
	if w.lines == 1 { // an audit of nothing would find nothing
		return badInput("the store holds nothing of a workshop %q", workshop)
	}
	return nil
}

// recordSink writes an export as a record file.
type recordSink struct{ *recordWriter }

// Tool implements server.Sink.
func (s recordSink) Tool(t procedure.Tool) error { return s.tool(t) }

// Rank implements server.Sink.
func (s recordSink) Rank(person string, rank procedure.Rank, since time.Time) error {
	return s.rank(audit.RankSince{Person: person, Rank: rank, Since: since})
}

// Skills implements server.Sink.
func (s recordSink) Skills(person string, skills *procedure.SkillRegister, since time.Time) error {
	return s.skills(audit.SkillsSince{Person: person, Skills: skills, Since: since})
}

// Plan implements server.Sink.
func (s recordSink) Plan(digest string, data []byte) error {
	return s.write(recordLine{Type: linePlan, Digest: digest, Plan: data})
}

// Entry implements server.Sink.
func (s recordSink) Entry(build string, envelope, payload []byte) error {
	if err := s.write(recordLine{Type: lineEntry, Envelope: envelope, Payload: payload}); err != nil {
		return fmt.Errorf("build %s: %w", build, err)
	}
	return nil
}
