package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/fit"
)

// seatFitRules ties the fit rules of seatpost and saddle to the sheet.
func seatFitRules() map[string]fitRule {
	return map[string]fitRule{
		"seatpost": {
			needs: []string{"seatpost.shape"},
			may: []string{"frame.seat_tube_inner", "seatpost.diameter", "seatpost.length", "seatpost.exposed", "seatpost.mark",
				"frame.seat_tube_junction", "frame.seat_tube_depth"},
			numbers: []string{"post", "tube"},
			run:     seatpostFit,
		},
		"saddle-rails": {
			needs:   []string{"saddle.rail_width", "saddle.rail_height", "seatpost.cradle_width", "seatpost.cradle_height"},
			numbers: []string{"rail-width", "rail-height"},
			run:     saddleRails,
		},
	}
}

// seatpostFit checks a round post's diameter, and where the sheet has the
// lengths, its insertion. Figures for diameters say nothing about a shaped
// post: it belongs to one frame or to none.
func seatpostFit(a *attributes) ([]fit.Result, map[string]string, error) {
	if a.text("seatpost.shape") == "shaped" {
		return []fit.Result{shapedPost()}, nil, nil
	}
	p := fit.Seatpost{
		Tube: a.wanted("frame.seat_tube_inner"), Post: a.wanted("seatpost.diameter"),
		PostLength: a.length("seatpost.length"), Exposed: a.length("seatpost.exposed"),
		Mark: a.length("seatpost.mark"), Junction: a.length("frame.seat_tube_junction"),
	}
	if p.Exposed == 0 {
		p.PostLength = 0 // how much is inside is not known without both
	}
	depth := a.length("frame.seat_tube_depth")
	if a.err != nil {
		return nil, nil, a.err
	}
	results, err := postResults(p, a)
	if err != nil {
		return nil, nil, err
	}
	if p.PostLength > 0 && depth > 0 {
		results = append(results, postRoom(p.PostLength-p.Exposed, depth, a.with(fit.SteelRule())))
	}
	return results, map[string]string{"post": millimeters(p.Post), "tube": millimeters(p.Tube)}, nil
}

// postResults holds the diameters to a caliper that was read twice, since a
// plain one cannot tell 0.1 mm in a range of 0.2 mm, and the lengths to a rule.
func postResults(p fit.Seatpost, a *attributes) ([]fit.Result, error) {
	lengths, err := fit.SeatpostFit(p, a.with(fit.SteelRule()))
	if err != nil {
		return nil, err
	}
	p.PostLength, p.Exposed = 0, 0
	diameter, err := fit.SeatpostFit(p, a.with(fit.CarefulCaliper()))
	return append(diameter, lengths[1:]...), err
}

// wanted reads a length that the rule cannot do without on this bike.
func (a *attributes) wanted(key string) fit.Length {
	a.text(key)
	return a.length(key)
}

// shapedPost is the answer for a post that is not round: the frame maker's
// own, tried by hand. Source: common practice, no source.
func shapedPost() fit.Result {
	return fit.Result{Rule: "seatpost", Check: "shape", Verdict: fit.TryAndMeasure, Instrument: fit.Instrument{Name: "looked at"},
		Measured: "a shaped post", Limit: "the post that the frame's papers name",
		Why:    "A shaped post is made for one frame. Find it in the frame's papers, then slide it in by hand and feel for play.",
		Source: CommonPractice, Confidence: fit.CommonPractice}
}

// postRoom asks whether the part of the post that goes in meets something in
// the tube first. Source: common practice, no source.
func postRoom(inside, depth fit.Length, ins fit.Instrument) fit.Result {
	r := fit.Result{Rule: "seatpost", Check: "room", Verdict: fit.Fits, Instrument: ins, Uncertainty: ins.Error,
		Measured: fmt.Sprintf("%s of the post inside, %s of tube free", inside, depth), Limit: "at most what is free",
		Margin: fit.Margin{Kind: fit.LengthMargin, Length: depth - inside},
		Why:    "The tube is free as far as the post goes down.", Source: CommonPractice, Confidence: fit.CommonPractice}
	switch margin := depth - inside; {
	case margin >= ins.Error:
	case margin <= -ins.Error:
		r.Verdict = fit.DoesNotFit
		r.Why = fmt.Sprintf("The post meets something in the tube %s before the rider's height is reached. It needs a shorter post or a longer exposed part.", -margin)
	default:
		r.Verdict = fit.TryAndMeasure
		r.Why = "Post and tube end at nearly the same place. Slide it in and feel."
	}
	return r
}

// saddleRails compares the rails with the cradle.
func saddleRails(a *attributes) ([]fit.Result, map[string]string, error) {
	rails := fit.Rails{Width: a.length("saddle.rail_width"), Height: a.length("saddle.rail_height")}
	cradle := fit.Rails{Width: a.length("seatpost.cradle_width"), Height: a.length("seatpost.cradle_height")}
	if a.err != nil {
		return nil, nil, a.err
	}
	results, err := fit.SaddleRails(rails, cradle, a.with(fit.Caliper()))
	if err != nil {
		return nil, nil, err
	}
	return results, map[string]string{"rail-width": millimeters(rails.Width), "rail-height": millimeters(rails.Height)}, nil
}
