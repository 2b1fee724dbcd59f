package fit

import (
	"sync"

	"github.com/tightwright/tightwright/torque/joint"
)

// A ShellKind is one kind of bottom bracket shell: its widths, the thread of
// each side or the bore of a pressed one, and the spindles that exist for it.
type ShellKind struct {
	ID              string
	Widths          []Length     // between the faces
	Drive, NonDrive joint.Thread // zero in a pressed shell
	Bore            Length       // 0 in a threaded shell
	Spindles        []string     // ids as in [Spindles]
	Reduced         []string     // spindles that exist for it with a reducer
	Source          string
	Confidence      Confidence
}

// Spindles lists the ids of spindles: two shapes and the round ones by
// diameter. "29 mm" is the one that measures 28.99 mm.
func Spindles() []string {
	return []string{
		"square taper", "ten-spline", "one-piece",
		"19 mm", "22 mm", "24 mm", "25 mm", "29 mm", "30 mm",
	}
}

const (
	sourceBrackets = "sizes and hands quoted in public thread tables; "
	sourcePractice = "common practice, no source"
)

// ShellKinds lists the kinds of shell the rules know.
//
// Sources: ISO 6696 for 1.37 in x 24 tpi (hand per cup quoted from its scope);
// public thread tables for 36 mm x 24 tpi and 35 mm; the rest, and all widths
// and spindles, common practice without a source.
func ShellKinds() []ShellKind {
	return append(threadedShells(), pressedShells()...)
}

// knownShells is ShellKinds, made once, for the rules: it is not changed.
var knownShells = sync.OnceValue(ShellKinds)

func threadedShells() []ShellKind {
	small, mixed := named("1.37 in x 24 tpi"), named("36 mm x 24 tpi")
	legacy, large := named("M35x1"), named("M47x1")
	return []ShellKind{
		{ID: "threaded 1.37 in", Widths: millimeters(68, 73, 83, 100),
			Drive: small.WithHand(joint.LeftHand), NonDrive: small,
			Spindles:   []string{"square taper", "ten-spline", "24 mm", "29 mm", "30 mm"},
			Source:     "ISO 6696:1989, scope as quoted (hand per cup, profile); spindles: " + sourcePractice,
			Confidence: Published},
		{ID: "threaded 36 mm", Widths: millimeters(70), Drive: mixed, NonDrive: mixed,
			Spindles: []string{"square taper", "24 mm", "25 mm", "30 mm"},
			Source:   sourceBrackets + "spindles: " + sourcePractice, Confidence: Published},
		{ID: "threaded 35 mm, both right-hand", Widths: millimeters(68), Drive: legacy, NonDrive: legacy,
			Spindles: []string{"square taper"},
			Source:   sourceBrackets + "spindles: " + sourcePractice, Confidence: Published},
		{ID: "threaded 35 mm, drive side left-hand", Widths: millimeters(68),
			Drive: legacy.WithHand(joint.LeftHand), NonDrive: legacy,
			Spindles: []string{"square taper"}, Source: "from memory", Confidence: FromMemory},
		{ID: "threaded 47 mm", Widths: []Length{68 * Millimeter, 73 * Millimeter, 85500 * Micrometer, 86 * Millimeter},
			Drive: large.WithHand(joint.LeftHand), NonDrive: large,
			Spindles: []string{"24 mm", "29 mm", "30 mm"},
			Source:   "size quoted in a public spacer chart; hand per side from memory", Confidence: FromMemory},
	}
}

func pressedShells() []ShellKind {
	um := func(n Length) Length { return n * Micrometer }
	kinds := []ShellKind{
		{ID: "pressed 42 mm bearing", Widths: millimeters(68, 73), Bore: um(42000),
			Spindles: []string{"30 mm"}, Reduced: []string{"24 mm"}},
		{ID: "pressed 46 mm cups", Widths: millimeters(68, 73), Bore: um(46000),
			Spindles: []string{"30 mm"}, Reduced: []string{"24 mm"}},
		{ID: "pressed 41 mm cups, wide", Widths: []Length{um(86500), um(92000)}, Bore: um(41000),
			Spindles: []string{"24 mm"}},
		{ID: "pressed 46 mm cups, wide", Widths: []Length{um(79000), um(86500), um(92000)}, Bore: um(46000),
			Spindles: []string{"30 mm"}, Reduced: []string{"24 mm"}},
		{ID: "pressed 37 mm bearing", Widths: millimeters(90, 95), Bore: um(37000),
			Spindles: []string{"24 mm"}},
		{ID: "one-piece 51.3 mm", Widths: millimeters(68, 70), Bore: um(51300),
			Spindles: []string{"one-piece"}},
		{ID: "pressed 41.2 mm bearing", Widths: millimeters(73), Bore: um(41200),
			Spindles: []string{"19 mm", "22 mm"}},
	}
	for i := range kinds {
		kinds[i].Source, kinds[i].Confidence = sourcePractice, CommonPractice
	}
	return kinds
}

func millimeters(numbers ...Length) []Length {
	for i := range numbers {
		numbers[i] *= Millimeter
	}
	return numbers
}

// thread reads a thread name that is part of the program; "no thread" if it
// can't be read, which a test would notice.
func named(name string) joint.Thread {
	t, err := joint.ParseThread(name)
	if err != nil {
		return joint.Thread{}
	}
	return t
}
