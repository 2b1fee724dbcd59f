package fit

import (
	"fmt"
	"math"
	"slices"
)

const chainlineRule = "chainline"

// Figures of the chainline rule. Source: common practice, no source.
const (
	mostChainlineOff = 5 * Millimeter   // between front and rear
	rearEstimate     = 500 * Micrometer // the rear chainline is estimated, no better than this
	bodyEndGap       = 3 * Millimeter   // from the frame to the smallest sprocket
	goodChainAngle   = 3.0              // degrees to the far sprocket
	mostChainAngle   = 3.5
	leastCrankGap    = 3 * Millimeter // ring or arm to chainstay
)

// A ChainRun is what decides how straight the chain runs.
type ChainRun struct {
	Front     Length         // from the middle of the bicycle to the middle of the ring or rings
	Hub       Length         // width of the rear hub: 130, 135, 142 or 148 mm
	Sprockets SprocketFamily // of the cassette
	Chainstay Length
}

// halfWidths are half the effective widths of rear hubs: a 142 mm hub sits in
// slots 3.5 mm deep on each side, and so does one of 148 mm.
var halfWidths = map[Length]Length{
	130 * Millimeter: 65 * Millimeter,
	135 * Millimeter: 67500 * Micrometer,
	142 * Millimeter: 67500 * Micrometer,
	148 * Millimeter: 70500 * Micrometer,
}

// RearChainline estimates the distance from the middle of the bicycle to the
// middle of the sprockets: half effective hub width − 3 mm − half the stack.
// It reports false for a hub width it does not know.
func RearChainline(hub Length, f SprocketFamily) (Length, bool) {
	half, ok := halfWidths[hub]
	if !ok {
		return 0, false
	}
	return half - bodyEndGap - f.Stack()/2, true
}

// Chainline compares front and rear chainline ("offset", at most 5 mm) and the
// angle of the chain to the farther sprocket ("angle": up to 3.0° is good, over
// 3.5° too much; the margin is counted in millimeters at the sprocket). The
// rear chainline is an estimate, so half a millimeter of error is always
// counted. Source: common practice, no source.
func Chainline(c ChainRun, ins Instrument) ([]Result, error) {
	var in inputs
	rear, ok := RearChainline(c.Hub, c.Sprockets)
	if !ok {
		in.add("hub", "known", "%s is not a known hub width; known are 130 mm, 135 mm, 142 mm, 148 mm", c.Hub)
	}
	if !slices.Contains(SprocketFamilies(), c.Sprockets) {
		in.sprockets(c.Sprockets)
	}
	in.length("front", c.Front, 30*Millimeter, 80*Millimeter)
	in.length("chainstay", c.Chainstay, 250*Millimeter, 800*Millimeter)
	in.instrument(ins)
	if err := in.err(chainlineRule); err != nil {
		return nil, err
	}
	return []Result{c.offset(rear, ins), c.angle(rear, ins)}, nil
}

func (in *inputs) sprockets(f SprocketFamily) {
	in.count("sprockets.speeds", f.Speeds, 1, 20)
	in.length("sprockets.pitch", f.Pitch, 2*Millimeter, 10*Millimeter)
	in.length("sprockets.thickness", f.Thickness, Millimeter, 5*Millimeter)
}

func (c ChainRun) offset(rear Length, ins Instrument) Result {
	r := Result{
		Rule: chainlineRule, Check: "offset", Instrument: ins,
		Measured: fmt.Sprintf("front %s, rear %.1f mm by estimate", c.Front, rear.Millimeters()),
		Limit:    "apart by at most " + mostChainlineOff.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(mostChainlineOff-(c.Front-rear).Abs(), max(ins.Error, rearEstimate))
	r.explain(
		"Ring and sprockets run nearly in line.",
		"Front and rear are apart by about the limit, and the rear is an estimate: build it and measure.",
		"Ring and sprockets are too far out of line: another spindle or ring position.")
	return r
}

func (c ChainRun) angle(rear Length, ins Instrument) Result {
	half := Length(c.Sprockets.Speeds-1) * c.Sprockets.Pitch / 2
	off := max((c.Front - (rear - half)).Abs(), (c.Front - (rear + half)).Abs())
	degrees := math.Atan(float64(off)/float64(c.Chainstay)) * 180 / math.Pi
	r := Result{
		Rule: chainlineRule, Check: "angle", Instrument: ins,
		Measured: fmt.Sprintf("%.1f mm to the far sprocket over %s: %.2f°", off.Millimeters(), c.Chainstay, degrees),
		Limit:    fmt.Sprintf("good up to %.1f°, at most %.1f°", goodChainAngle, mostChainAngle),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	uncertain := max(ins.Error, rearEstimate)
	r.judge(c.sideways(goodChainAngle)-off, uncertain)
	r.Why = "The chain runs straight enough on every sprocket."
	if r.Verdict == Fits {
		return r
	}
	r.Verdict = TryAndMeasure
	r.Why = "The chain runs at a slant on the far sprocket: it works and wears sooner. Try it and listen."
	if off-c.sideways(mostChainAngle) >= uncertain {
		r.Verdict = DoesNotFit
		r.Why = "The chain would run too far aslant on the far sprocket."
	}
	return r
}

// sideways is how far to the side a chain of this length runs at an angle.
func (c ChainRun) sideways(degrees float64) Length {
	return FromMillimeters(c.Chainstay.Millimeters() * math.Tan(degrees*math.Pi/180)).hundredths()
}

// CrankClearance wants 3 mm between ring and chainstay and between arm and
// chainstay. Source: common practice, no source.
func CrankClearance(ring, arm Length, ins Instrument) ([]Result, error) {
	var in inputs
	in.length("ring", ring, -20*Millimeter, 100*Millimeter)
	in.length("arm", arm, -20*Millimeter, 100*Millimeter)
	in.instrument(ins)
	if err := in.err(chainlineRule); err != nil {
		return nil, err
	}
	return []Result{
		leastGap(chainlineRule, "ring to chainstay", ring, leastCrankGap, ins),
		leastGap(chainlineRule, "arm to chainstay", arm, leastCrankGap, ins),
	}, nil
}

// leastGap judges a gap that must not be smaller than a limit.
func leastGap(rule, check string, gap, least Length, ins Instrument) Result {
	r := Result{
		Rule: rule, Check: check, Instrument: ins, Measured: check + " " + gap.String(),
		Limit: "at least " + least.String(), Source: sourcePractice, Confidence: CommonPractice,
	}
	r.judge(gap-least, ins.Error)
	r.explain(
		"There is room.",
		"The gap is so close to the limit that this instrument can't decide.",
		"There is not enough room.")
	return r
}
