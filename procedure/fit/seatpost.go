package fit

import "fmt"

const postRule = "seatpost"

// Figures of the seatpost rule. Source: common practice, no source, except the
// mark (16 CFR 1512.15).
const (
	mostPostPlay   = 200 * Micrometer
	belowJunction  = 20 * Millimeter
	markInDiameter = 2 // the mark stands at least this many diameters from the lower end
)

// A Seatpost is a seatpost and the seat tube it goes into.
type Seatpost struct {
	Tube, Post Length // inner diameter of the tube, outer diameter of the post
	PostLength Length // whole length; 0: insertion not checked
	Exposed    Length // above the clamp at the rider's saddle height
	Mark       Length // from the lower end to the insertion mark; 0: two diameters
	Junction   Length // from the top of the seat tube down to the underside of the top tube; 0: not measured
}

// SeatpostFit checks the "diameter" (0 to 0.2 mm of play), and with a length the
// insertion "mark" (at least two diameters, 16 CFR 1512.15) and that the post
// reaches 20 mm below the "junction" of the top tube.
func SeatpostFit(p Seatpost, ins Instrument) ([]Result, error) {
	var in inputs
	in.length("tube", p.Tube, 20*Millimeter, 50*Millimeter)
	in.length("post", p.Post, 20*Millimeter, 50*Millimeter)
	in.length("post_length", p.PostLength, 0, 700*Millimeter)
	in.length("exposed", p.Exposed, 0, 600*Millimeter)
	in.length("mark", p.Mark, 0, 300*Millimeter)
	in.length("junction", p.Junction, 0, 300*Millimeter)
	in.instrument(ins)
	if p.PostLength > 0 && p.Exposed > p.PostLength {
		in.add("exposed", "order", "%s is more than the whole post, %s", p.Exposed, p.PostLength)
	}
	if err := in.err(postRule); err != nil {
		return nil, err
	}
	results := []Result{p.diameter(ins)}
	if p.PostLength > 0 {
		results = append(results, p.mark(ins), p.junction(ins))
	}
	return results, nil
}

func (p Seatpost) diameter(ins Instrument) Result {
	play := p.Tube - p.Post
	r := Result{
		Rule: postRule, Check: "diameter", Instrument: ins,
		Measured: fmt.Sprintf("tube %s, post %s: play %s", p.Tube, p.Post, play),
		Limit:    "play of 0 mm to " + mostPostPlay.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(min(play, mostPostPlay-play), ins.Error)
	r.explain("The clamp closes on the post.", tooCoarse,
		"The post is too thin for the tube: the clamp would bend the tube and the post would slip.")
	if r.Verdict == DoesNotFit && play < 0 {
		r.Why = "The post is too thick for the tube. It is never forced or filed."
	}
	return r
}

func (p Seatpost) mark(ins Instrument) Result {
	mark, source := p.Mark, "mark on the post"
	if mark == 0 {
		mark, source = markInDiameter*p.Post, "two post diameters, no mark given"
	}
	inside := p.PostLength - p.Exposed
	r := Result{
		Rule: postRule, Check: "mark", Instrument: ins,
		Measured: inside.String() + " of the post inside",
		Limit:    "at least " + mark.String() + " (" + source + ")",
		Source:   "the maker's mark; 16 CFR 1512.15: two diameters", Confidence: Published,
	}
	r.judge(inside-mark, ins.Error)
	r.explain("The mark is inside the tube.", tooCoarse, "The post stands out past its mark: it can bend or break the frame.")
	return r
}

func (p Seatpost) junction(ins Instrument) Result {
	inside := p.PostLength - p.Exposed
	if p.Junction == 0 {
		return Result{
			Rule: postRule, Check: "junction", Verdict: TryAndMeasure, Instrument: ins,
			Measured: inside.String() + " of the post inside, junction not measured",
			Limit:    belowJunction.String() + " below the top tube junction",
			Why:      "Measure from the top of the seat tube to the underside of the top tube; the post must reach below it.",
			Source:   sourcePractice, Confidence: CommonPractice,
		}
	}
	return leastGap(postRule, "junction", inside-p.Junction, belowJunction, ins)
}
