package main

import (
	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque/joint"
)

func newThreadCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "thread [THREAD]",
		Short: "The sizes of a thread, and which thread a measured part may have",
		Long: `The sizes of a thread, and which thread a measured part may have.

With a THREAD it answers its diameters, its pitch, its stress area and its hand.

With --diameter and either --pitch or --tpi it answers which thread a part may have,
among those in use on bicycles, and which others it would start in and then wreck,
with the error of the pitch that adds up over the engaged length. The diameter is
that over the crests, with --kind inner that of the bore between the crests.

How well it was measured decides what can be told apart: --diameter-error is 0.1 mm
and --pitch-error is 0.01 mm where nothing else is given, and the engaged length is
10 mm. What was assumed is listed with the answer.

With - as the only argument, rows of CSV are read from standard input with columns
that are named thread and like the flags.`,
		Example: `  tightwright thread "1.37 in x 24 tpi LH"
  tightwright thread --diameter 14.1 --pitch 1.26 --engaged 12
  tightwright thread --diameter 33.8 --tpi 24 --kind inner --hand LH
  tightwright thread - <threads.csv`,
		ValidArgsFunction: completeThreads,
	}
	flags := cmd.Flags()
	flags.String("diameter", "", "the measured diameter in `mm`")
	flags.String("pitch", "", "the measured pitch in `mm`")
	flags.String("tpi", "", "the turns that were counted in an inch, a `number`, in place of the pitch")
	flags.String("kind", "", "the `side`: outer for a bolt, an axle or a cup, inner for a nut, a shell or a crank arm; outer")
	flags.String("hand", "", "the `hand`, seen from the lean of the turns: right-hand or left-hand, RH or LH; right-hand")
	flags.String("diameter-error", "", "how far the diameter may be off either way, in `mm`; 0.1")
	flags.String("pitch-error", "", "how far the pitch may be off either way, in `mm`; 0.01, and none with tpi")
	flags.String("engaged", "", "how deep the two would be screwed together, in `mm`; 10")
	return calculation{
		optional: "thread",
		hint:     `thread takes a thread, flags, or - alone for rows of CSV, as in: thread "1.37 in x 24 tpi LH", or thread --diameter 14.1 --pitch 1.26`,
		work:     workThread,
	}.command(cmd)
}

// completeThreads offers the threads that are in use on bicycles.
func completeThreads(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	var out []string
	if len(args) == 0 {
		for _, k := range joint.KnownThreads() {
			out = append(out, k.Thread.String()+"\t"+k.Use)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// threadFlags has the flags of the inputs of a measured part that are called
// otherwise.
var threadFlags = map[string]string{"turns_per_inch": "tpi"}

func workThread(in inputs) (answer, error) {
	r := newReading(in)
	if r.has("thread") {
		return workNamedThread(r)
	}
	r.require("diameter")
	r.exclude("pitch", "tpi")
	if !r.has("tpi") {
		r.require("pitch")
	}
	const inner = 1
	q := joint.LookAlikeQuestion{
		DiameterMM: r.positive("diameter"), PitchMM: r.positive("pitch"), TurnsPerInch: r.positive("tpi"),
		DiameterErrorMM: r.positive("diameter-error"), PitchErrorMM: r.positive("pitch-error"), EngagedMM: r.positive("engaged"),
		Hand: r.hand("hand"), IsInner: word[uint8](r, "kind", "outer", "inner") == inner,
	}
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	out, err := q.Find(joint.KnownThreads())
	r.faults.take(err, threadFlags)
	return lookAlikeAnswer{out}, r.faults.err()
}

func workNamedThread(r *reading) (answer, error) {
	for _, name := range []string{"diameter", "pitch", "tpi", "kind", "hand", "diameter-error", "pitch-error", "engaged"} {
		r.exclude("thread", name)
	}
	thread := r.thread("thread")
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	return newThreadAnswer(thread), nil
}

// hand reads a hand; none is right-hand.
func (r *reading) hand(name string) joint.Hand {
	var h joint.Hand
	if r.has(name) {
		r.faults.takeAs(name, reasonUnknownWord, h.UnmarshalText([]byte(r.text(name))))
	}
	return h
}
