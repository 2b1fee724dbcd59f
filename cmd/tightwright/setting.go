package main

import (
	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

func newSettingCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "setting --torque T [--length L --extension E] [--wrench-max T ...]",
		Short: "What a wrench has to be set to, with an adapter and on its own scale",
		Long: `What a wrench has to be set to, with an adapter and on its own scale.

With an adapter, such as a crow-foot, the setting is S = T·L/(L + E·cos a): L from
the middle of the grip to the drive, E from the drive to the fastener, a the angle
between them, 0 where the adapter lengthens the wrench and 180 where it points back
to the grip. L + E·cos a has to be at least a tenth of L. The hand pulls at the
middle of the grip. --set-to asks the reverse: what comes to the fastener.

With --wrench-max and the rest of a wrench the answer has the mark on its scale: the
highest that is not above the setting, or with --as min the lowest that is not
below it. With --max, and --min where there is one, the mark keeps the torque at
the fastener inside that window wherever the wrench is within its permitted
deviation (ISO 6789), and the torque is what is aimed at. Where no mark can, it is
refused with the nearest and why.

The window is the maker's or the procedure's; nothing here makes one. Whether a
wrench is calibrated, and for this direction, is told by a plan.

With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`,
		Example: `  tightwright setting --torque 135 --unit '[lbf_av].[in_i]' --length 10 --extension 1.5 --angle 0 --length-unit in
  tightwright setting --torque 6 --min 5 --max 7 --wrench-min 2 --wrench-max 20 --graduation 0.2
  tightwright setting --torque 35 --length 300 --extension 40 --angle 90 \
      --wrench-min 10 --wrench-max 60 --graduation 0.5 --svg setting.svg
  tightwright setting --set-to 117 --unit in-lb --length 10 --extension 1.5
  tightwright setting - <settings.csv`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("torque", "", "the `torque` wanted at the fastener")
	flags.String("set-to", "", "what the wrench is set to, a `torque`, for what comes to the fastener")
	flags.String("unit", "", "the `unit` of torque, set-to, min and max; N·m where none is given")
	flags.String("length", "", "L, a `length`")
	flags.String("extension", "", "E, a `length`")
	flags.String("angle", "", "a, in `degrees`; 0")
	flags.String("length-unit", "", "the `unit` of both lengths: mm, cm, m, in or ft; mm")
	flags.String("wrench-min", "", "the first `mark` of the wrench")
	flags.String("wrench-max", "", "the last `mark` of the wrench")
	flags.String("graduation", "", "the `step` between its marks")
	flags.String("wrench-unit", "", "the `unit` of its scale; that of the torque where none is given")
	flags.String("wrench-kind", "", "the `kind` of wrench: setting, indicating or fixed; setting")
	flags.String("wrench-class", "", "its `class` of ISO 6789-1:2017, as in II-A")
	flags.String("deviation", "", "its permitted deviation in `percent`; by its class and maximum (ISO 6789)")
	flags.String("min", "", "the least `torque` that is allowed at the fastener")
	flags.String("max", "", "the greatest `torque` that is allowed at the fastener")
	flags.String("allowance", "", "the `rule`, tool where the deviation comes off the window, none where not; tool")
	flags.String("as", "", "the `limit` that the torque is, for its mark: max down, min up; max")
	return withDrawing(calculation{
		hint: "setting takes flags, or - alone for rows of CSV, as in: setting --torque 135 --unit in-lb --length 10 --extension 1.5 --length-unit in",
		work: workSetting,
	}, cmd)
}

func workSetting(in inputs) (answer, error) {
	r := newReading(in)
	for _, name := range append([]string{"torque", "min", "max", "as", "allowance"}, wrenchFlagNames...) {
		r.exclude("set-to", name)
	}
	if !r.has("set-to") {
		r.require("torque")
	}
	unit := r.unit("unit")
	at := r.figure("torque", unit)
	setTo := r.figure("set-to", unit)
	lengths := r.adapter()
	tool := r.wrench(unit)
	window := r.window(unit, tool != nil)
	bound, allow := word[wrench.Bound](r, "as", "max", "min"), word[wrench.Allowance](r, "allowance", "tool", "none")
	if lengths == nil && tool == nil {
		r.require("length", "extension")
	}
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	var adapter wrench.Adapter
	if lengths != nil {
		var err error
		adapter, err = wrench.NewAdapter(*lengths)
		r.faults.take(err, nil)
	}
	w := r.newWrench(tool)
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	if r.has("set-to") {
		return r.applied(adapter, setTo)
	}
	out := settingAnswer{at: at, lengths: lengths, wrench: w, window: window, bound: bound}
	if tool != nil && tool.Graduation != "" {
		out.graduation, _ = torque.ParseFigure(tool.Graduation, tool.Unit) // read before
	}
	r.set(&out, adapter, allow)
	return out, r.faults.err()
}

// set works out the setting and, where there is a wrench, its mark.
func (r *reading) set(out *settingAnswer, adapter wrench.Adapter, allow wrench.Allowance) {
	var err error
	out.ExactSetting, err = adapter.Setting(out.at)
	r.faults.take(err, nil)
	if err != nil || out.wrench == nil {
		return
	}
	if out.window.IsZero() {
		out.ExactSetting, err = out.MarkOn(out.wrench, out.bound)
		r.faults.takeAs("wrench-max", reasonOf(wrench.RuleOffScale), err)
		return
	}
	aim, err := out.at.Torque()
	r.faults.takeAs("torque", torque.ReasonOutOfRange, err)
	if err != nil {
		return
	}
	if !out.window.Contains(aim) {
		r.faults.add("torque", torque.ReasonOutOfRange, "%s is aimed at, %s is allowed: aim at a torque within it", out.at, out.window)
		return
	}
	choice, err := out.wrench.With(adapter).Choose(out.window, aim, allow)
	r.takeRefusal(err)
	if err == nil {
		out.choose(choice)
	}
}

// figure reads a torque as it is written.
func (r *reading) figure(name string, unit torque.Unit) torque.Figure {
	if !r.has(name) {
		return torque.Figure{}
	}
	r.number(name) // says what is wrong with it
	figure, err := torque.ParseFigure(r.text(name), unit)
	if err == nil && figure.Rat().Sign() <= 0 {
		r.faults.add(name, torque.ReasonNotPositive, "%s is not above 0", r.text(name))
	}
	return figure
}

// adapter reads the lengths of an adapter, nil where none is given.
func (r *reading) adapter() *wrench.AdapterDescription {
	if !r.has("length") && !r.has("extension") && !r.has("angle") {
		return nil
	}
	r.require("length", "extension")
	for _, name := range []string{"length", "extension", "angle"} {
		r.number(name) // says what is wrong with it
	}
	return &wrench.AdapterDescription{
		Length: r.text("length"), Extension: r.text("extension"), AngleDegrees: r.text("angle"),
		Unit: word[wrench.LengthUnit](r, "length-unit", "mm", "cm", "m", "in", "ft"),
	}
}
