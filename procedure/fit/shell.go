package fit

import (
	"slices"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/torque/joint"
)

const shellRule = "shell-and-spindle"

// Tolerances of the shell. Source: common practice, no source.
const (
	shellWidthTolerance = 300 * Micrometer // either way
	pressedBoreUnder    = 50 * Micrometer  // the bore may be this much smaller, never larger
	pressedBoreOther    = 500 * Micrometer // beyond this it is a bore of another size
)

// A Shell is the bottom bracket shell of a frame as measured, with the bottom
// bracket and crank that are to go in.
type Shell struct {
	Width           Length       // between the faces
	Drive, NonDrive joint.Thread // threads of the shell; zero if pressed
	Bore            Length       // bore of a pressed shell; 0 if threaded

	CupDrive, CupNonDrive joint.Thread // threads of the cups; zero if pressed
	CupBore               Length       // bore the cups or bearings are made for; 0 if threaded

	Spindle       string // id as in [Spindles]
	SpindleLength Length // between its ends or shoulders; 0: not checked
	CrankWidth    Length // shell and spacers together that the crank needs
	Spacer        Length // thickness of one spacer of the set; 0: any

	Width2 Length // width at a second place of the rim; 0: measured once
}

// ShellAndSpindle checks everything about a shell, point by point: the kind of
// shell, "width", "thread" of each side or "bore", "spindle" and "spacers". The
// worst of the results governs ([Worst]).
func ShellAndSpindle(s Shell, ins Instrument) ([]Result, error) {
	var in inputs
	in.shell(s)
	in.instrument(ins)
	if err := in.err(shellRule); err != nil {
		return nil, err
	}
	kinds := s.kinds()
	results := []Result{s.width(kinds, ins)}
	if s.isThreaded() {
		results = append(results,
			cupThread("drive side thread", s.Drive, s.CupDrive),
			cupThread("other side thread", s.NonDrive, s.CupNonDrive),
			handPair(s, kinds))
	} else {
		results = append(results, pressedBore(s.Bore, s.CupBore, ins))
	}
	results = append(results, s.spindle(kinds), spacers(s, ins))
	if s.SpindleLength > 0 {
		results = append(results, s.reach(ins))
	}
	return results, nil
}

func (s Shell) isThreaded() bool { return !s.Drive.IsZero() || !s.NonDrive.IsZero() }

func (in *inputs) shell(s Shell) {
	in.length("width", s.Width, 50*Millimeter, 150*Millimeter)
	in.length("crank_width", s.CrankWidth, 50*Millimeter, 150*Millimeter)
	in.length("spacer", s.Spacer, 0, 20*Millimeter)
	in.length("spindle_length", s.SpindleLength, 0, 250*Millimeter)
	if s.Width2 != 0 {
		in.length("width2", s.Width2, 50*Millimeter, 150*Millimeter)
	}
	if !slices.Contains(Spindles(), s.Spindle) {
		in.add("spindle", "known", "%q is not a known spindle; known are %s", clip(s.Spindle), strings.Join(Spindles(), ", "))
	}
	if !s.isThreaded() {
		in.length("bore", s.Bore, 30*Millimeter, 70*Millimeter)
		in.length("cup_bore", s.CupBore, 30*Millimeter, 70*Millimeter)
		return
	}
	in.thread("drive", s.Drive)
	in.thread("non_drive", s.NonDrive)
	in.thread("cup_drive", s.CupDrive)
	in.thread("cup_non_drive", s.CupNonDrive)
	if s.Bore != 0 {
		in.add("bore", "one of", "a shell is threaded or pressed, not both")
	}
}

// kinds returns the kinds of shell with these threads, or with this bore.
func (s Shell) kinds() []ShellKind {
	var found []ShellKind
	for _, k := range ShellKinds() {
		isSame := k.Bore > 0 && (s.Bore-k.Bore).Abs() < pressedBoreOther/5
		if s.isThreaded() {
			isSame = k.Bore == 0 && k.Drive == s.Drive && k.NonDrive == s.NonDrive
		}
		if isSame {
			found = append(found, k)
		}
	}
	return found
}

// width compares the measured width with the widths of this kind of shell.
func (s Shell) width(kinds []ShellKind, ins Instrument) Result {
	r := Result{
		Rule: shellRule, Check: "width", Instrument: ins,
		Measured: "shell " + s.Width.String() + " wide", Source: sourcePractice, Confidence: CommonPractice,
	}
	var widths []Length
	for _, k := range kinds {
		widths = append(widths, k.Widths...)
	}
	if len(widths) == 0 {
		r.Verdict, r.Limit = TryAndMeasure, "a width known for this shell"
		r.Why = "No kind of shell with these threads or this bore is known. Measure again, and take the widths from the maker's papers."
		return r
	}
	nearest := widths[0]
	for _, w := range widths {
		if (w - s.Width).Abs() < (nearest - s.Width).Abs() {
			nearest = w
		}
	}
	r.Limit = nearest.String() + " within " + shellWidthTolerance.String()
	r.judge(shellWidthTolerance-(s.Width-nearest).Abs(), ins.Error)
	r.Why = map[Verdict]string{
		Fits:          "The width is that of a " + nearest.String() + " shell.",
		TryAndMeasure: "The width is so close to the limit that this instrument can't decide.",
		DoesNotFit:    "No shell of this kind has this width: worn faces, a bad cut, or another kind of shell.",
	}[r.Verdict]
	s.faces(&r)
	return r
}

// faces looks at the difference between two places of the rim: more than
// 0.1 mm and the faces are not square.
func (s Shell) faces(r *Result) {
	const square = 100 * Micrometer
	if s.Width2 == 0 {
		return
	}
	r.Measured += ", at a second place " + s.Width2.String()
	if (s.Width - s.Width2).Abs() > square {
		r.Verdict = max(r.Verdict, TryAndMeasure)
		r.Why += " The faces differ by more than " + square.String() + ": out of square. A metal shell is faced; a carbon one goes to the foreman."
	}
}

// cupThread compares one side of the shell with its cup.
func cupThread(check string, shell, cup joint.Thread) Result {
	r := Result{
		Rule: shellRule, Check: check, Verdict: Fits, Instrument: ThreadGauge(),
		Measured: "shell " + threadText(shell) + ", cup " + threadText(cup),
		Limit:    "the same thread and hand",
		Why:      "Shell and cup have the same thread: " + threadText(shell) + ".",
		Source:   "threads go together when size, pitch and hand are equal", Confidence: Computed,
	}
	if shell != cup {
		r.Verdict = DoesNotFit
		r.Why = mismatch(cup, shell, cupEngagement)
	}
	return r
}

// cupEngagement is how much of a cup thread is engaged, about 10 mm.
// Source: common practice, no source.
const cupEngagement = 10 * Millimeter

// handPair asks whether the two hands of the shell are a pair that exists.
func handPair(s Shell, kinds []ShellKind) Result {
	r := Result{
		Rule: shellRule, Check: "hand", Verdict: Fits, Instrument: ThreadGauge(),
		Measured: "drive side " + s.Drive.Hand().String() + ", other side " + s.NonDrive.Hand().String(),
		Limit:    "the hands of a known kind of shell",
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	if len(kinds) == 0 {
		r.Verdict = TryAndMeasure
		r.Why = "No known shell has these threads with these hands. Look at the lean of the threads again before any cup goes in."
		return r
	}
	r.Limit, r.Source, r.Confidence = kinds[0].ID, kinds[0].Source, kinds[0].Confidence
	r.Why = "The drive side tightens " + turn(s.Drive.Hand()) + ", the other side " + turn(s.NonDrive.Hand()) + ", each seen from its own side."
	return r
}

func turn(h joint.Hand) string {
	if h == joint.LeftHand {
		return "counterclockwise"
	}
	return "clockwise"
}

// pressedBore compares a bore with the size a cup or bearing is pressed into:
// nominal to 0.05 mm under.
func pressedBore(bore, madeFor Length, ins Instrument) Result {
	r := Result{
		Rule: shellRule, Check: "bore", Instrument: ins,
		Measured: "bore " + bore.String() + ", cups made for " + madeFor.String(),
		Limit:    (madeFor - pressedBoreUnder).String() + " to " + madeFor.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(min(madeFor-bore, bore-(madeFor-pressedBoreUnder)), ins.Error)
	switch {
	case r.Verdict == Fits:
		r.Why = "The bore is in the range for a press fit."
	case (bore - madeFor).Abs() >= pressedBoreOther:
		r.Verdict = DoesNotFit
		r.Why = "This is a bore of another size; these cups are not made for it."
	case r.Verdict == DoesNotFit && bore > madeFor:
		r.Verdict = TryAndMeasure
		r.Why = "The bore is too large for a press fit. Use a sleeve joined by thread between the cups, or ask the foreman."
	case r.Verdict == DoesNotFit:
		r.Verdict = TryAndMeasure
		r.Why = "The bore is under size. Look for paint and burrs, measure again, and do not press by force."
	default:
		r.Why = "The range is narrower than this instrument can tell apart. Measure with a bore gauge."
	}
	return r
}

// spindle asks whether the spindle exists for this kind of shell.
func (s Shell) spindle(kinds []ShellKind) Result {
	r := Result{
		Rule: shellRule, Check: "spindle", Instrument: Marked(), Verdict: DoesNotFit,
		Measured: "spindle " + s.Spindle, Source: sourcePractice, Confidence: CommonPractice,
	}
	var all []string
	isReduced := false
	for _, k := range kinds {
		all = append(all, k.Spindles...)
		isReduced = isReduced || slices.Contains(k.Reduced, s.Spindle)
	}
	slices.Sort(all)
	all = slices.Compact(all)
	r.Limit = "one of " + strings.Join(all, ", ")
	switch {
	case len(kinds) == 0:
		r.Verdict, r.Limit = TryAndMeasure, "a spindle known for this shell"
		r.Why = "The kind of shell is not known, so neither are its spindles."
	case slices.Contains(all, s.Spindle):
		r.Verdict = Fits
		r.Why = "Bearings with this spindle exist for this shell."
	case isReduced:
		r.need("a bearing or reducer for a " + s.Spindle + " spindle")
		r.Verdict = FitsWith
		r.Why = "The spindle is smaller than the bearing of this shell; a reducer takes up the difference."
	default:
		r.Why = "No bearing for this spindle exists in this shell."
	}
	return r
}

// spacers works out what fills the width the crank needs.
func spacers(s Shell, ins Instrument) Result {
	total := s.CrankWidth - s.Width
	r := Result{
		Rule: shellRule, Check: "spacers", Instrument: ins,
		Measured: "shell " + s.Width.String() + ", crank needs " + s.CrankWidth.String(),
		Limit:    "spacers make up the difference within " + shellWidthTolerance.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	count, rest := fill(total, s.Spacer)
	r.judge(shellWidthTolerance-rest.Abs(), ins.Error)
	switch {
	case total < 0 && count == 0 && r.Verdict == DoesNotFit:
		r.Margin = lengthMargin(total)
		r.Why = "The shell is " + (-total).String() + " too wide for this crank; no spacer mends that."
	case r.Verdict == DoesNotFit:
		r.Verdict = TryAndMeasure
		r.Why = "The difference of " + total.String() + " is no whole number of " + s.Spacer.String() + " spacers. Measure again and look up the crank's spacers."
	case r.Verdict == TryAndMeasure:
		r.Why = "The difference of " + total.String() + " can't be told from the limit with this instrument. Measure again and fit dry."
	case count == 0:
		r.Why = "The shell has the width the crank needs; no spacers."
	default:
		r.need(spacerText(total, s.Spacer, count))
		r.Why = "Spacers bring the shell to the width the crank needs. Divide them between the sides as the crank's papers say, not all on one side."
	}
	return r
}

// fill returns how many spacers come nearest to total, and what is left over.
func fill(total, spacer Length) (count Length, rest Length) {
	switch {
	case total <= shellWidthTolerance:
		return 0, total
	case spacer == 0:
		return 1, 0
	}
	count = (total + spacer/2) / spacer
	return count, total - count*spacer
}

func spacerText(total, spacer, count Length) string {
	switch {
	case spacer == 0:
		return total.String() + " of spacers"
	case count == 1:
		return "1 spacer of " + spacer.String()
	}
	return strconv.FormatInt(int64(count), 10) + " spacers of " + spacer.String()
}

// reach asks whether the spindle is long enough for shell and spacers.
func (s Shell) reach(ins Instrument) Result {
	need := max(s.Width, s.CrankWidth)
	r := Result{
		Rule: shellRule, Check: "spindle length", Instrument: ins,
		Measured: "spindle " + s.SpindleLength.String() + " long", Limit: "at least " + need.String(),
		Source: sourcePractice, Confidence: CommonPractice,
	}
	r.judge(s.SpindleLength-need, ins.Error)
	r.Why = map[Verdict]string{
		Fits:          "The spindle covers the shell and its spacers.",
		TryAndMeasure: "The spindle covers the shell and its spacers by less than this instrument can tell.",
		DoesNotFit:    "The spindle is too short for this shell and its spacers.",
	}[r.Verdict]
	return r
}
