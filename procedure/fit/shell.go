package fit

import (
	"slices"
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
	CrankWidth    Length // shell and spacers together that the crank needs; 0: not checked
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
	const most = 7
	results := append(make([]Result, 0, most), s.width(kinds, ins))
	if s.isThreaded() {
		results = append(results,
			cupThread("drive side thread", s.Drive, s.CupDrive),
			cupThread("other side thread", s.NonDrive, s.CupNonDrive),
			handPair(s, kinds))
	} else {
		results = append(results, pressedBore(s.Bore, s.CupBore, ins))
	}
	results = append(results, s.spindle(kinds))
	if s.CrankWidth > 0 {
		results = append(results, spacers(s, ins))
	}
	if s.SpindleLength > 0 {
		results = append(results, s.reach(ins))
	}
	return results, nil
}

func (s Shell) isThreaded() bool { return !s.Drive.IsZero() || !s.NonDrive.IsZero() }

func (in *inputs) shell(s Shell) {
	in.length("width", s.Width, 50*Millimeter, 150*Millimeter)
	if s.CrankWidth != 0 {
		in.length("crank_width", s.CrankWidth, 50*Millimeter, 150*Millimeter)
	}
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
	for _, k := range knownShells() {
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
