package main

import "slices"

// Forms of flags, as the help shows them.
const (
	inMM    = "mm"
	inTeeth = "teeth"
	aThread = "thread"
	aWord   = "word"
	aNumber = "number"
)

const materialWords = "steel, stainless, alloy, anodised-alloy, titanium, carbon, resin or brass"

// fitQuestions lists the questions that are answered by the rules of package
// procedure alone.
func fitQuestions() []fitQuestion {
	return slices.Concat(driveQuestions(), gearQuestions(), cockpitQuestions(), wheelQuestions(), brakeQuestions())
}

func driveQuestions() []fitQuestion {
	return []fitQuestion{
		{name: "cassette", short: "Whether a cassette goes on a freehub body", long: "Which body a cassette needs is asked with fit body.",
			examples: []string{"--body-splines 9-spline --splines 9-spline --body-length 36.75 --made-for 34.9"},
			fields: []fitField{
				{flag: "body-splines", form: aWord, about: "the pattern of the body: 9-spline, deep-8-spline, 23-spline, outer-thread-driver, threaded-hub or fixed-hub", keys: []string{"freehub-body.splines"}},
				{flag: "splines", form: aWord, about: "the pattern of the cassette, one of the same", keys: []string{"cassette.splines"}},
				{flag: "body-length", form: inMM, about: "from the inner shoulder to the outer end of the body", keys: []string{"freehub-body.length"}},
				{flag: "made-for", form: inMM, about: "the body length that the cassette was made for", keys: []string{"cassette.made_for_length"}},
				{flag: "own-spacer", form: inMM, about: "a spacer that always goes behind the cassette", keys: []string{"cassette.own_spacer"}},
			},
			asks: []fitAsk{{rule: "spline-pattern"}, {"body-length", []string{"body-length", "made-for", "own-spacer"}}}},
		{name: "lockring", short: "Whether a lockring goes in a freehub body",
			examples: []string{"--body-thread M30.6x1 --thread M30.6x1"},
			fields: []fitField{
				{flag: "body-thread", form: aThread, about: "in the outer end of the body", keys: []string{"freehub-body.lockring_thread"}},
				{flag: "thread", form: aThread, about: "of the lockring", keys: []string{"cassette-lockring.thread"}},
			}, asks: []fitAsk{{rule: "lockring-thread"}}},
		{name: "bottom-bracket", short: "Whether a crank and its cups go in a threaded shell", long: "Which shell a crank wants is asked with fit shell.",
			examples: []string{`--width 68 --drive-thread '1.37 in x 24 tpi LH' --other-thread '1.37 in x 24 tpi' --cup-drive-thread '1.37 in x 24 tpi LH' --cup-other-thread '1.37 in x 24 tpi' --spindle '24 mm' --needs-width 75.5 --spacer 2.5`},
			fields: []fitField{
				{flag: "width", form: inMM, about: "the shell across its faces", keys: []string{"bottom-bracket-shell.width"}},
				{flag: "second-width", form: inMM, about: "the same a quarter turn further round", keys: []string{"bottom-bracket-shell.width_second"}},
				{flag: "drive-thread", form: aThread, about: "of the shell on the chain side, with its hand", keys: []string{"bottom-bracket-shell.thread_drive"}},
				{flag: "other-thread", form: aThread, about: "of the shell on the other side, with its hand", keys: []string{"bottom-bracket-shell.thread_non_drive"}},
				{flag: "cup-drive-thread", form: aThread, about: "of the cup for the chain side", keys: []string{"bottom-bracket.thread_drive"}},
				{flag: "cup-other-thread", form: aThread, about: "of the other cup", keys: []string{"bottom-bracket.thread_non_drive"}},
				{flag: "spindle", form: aWord, about: "the spindle: 'square taper', ten-spline, one-piece, '19 mm', '22 mm', '24 mm', '25 mm', '29 mm' or '30 mm'", keys: []string{"crankset.spindle_kind"}},
				{flag: "needs-width", form: inMM, about: "shell and spacers together that the crank needs", keys: []string{"crankset.needs_width"}},
				{flag: "spacer", form: inMM, about: "the thickness of one spacer of the set", keys: []string{"bottom-bracket.spacer"}},
			}, asks: []fitAsk{{rule: "shell-and-spindle"}}},
		{name: "taper", short: "Whether a crank arm goes on a square taper", long: "The arm is pushed on by hand. How hard a bolt pulls it on is worked out by taper.",
			examples: []string{"--spindle iso-pattern --arm iso-pattern --stand-off 3.5"},
			fields: []fitField{
				{flag: "spindle", form: aWord, about: "the pattern of the spindle: iso-pattern or other-pattern", keys: []string{"spindle.taper"}},
				{flag: "arm", form: aWord, about: "the pattern of the arm: iso-pattern or other-pattern", keys: []string{"crank-arm-right.taper"}},
				{flag: "stand-off", form: inMM, about: "from the face the washer sits on down to the spindle end", keys: []string{"crank-arm-right.stand_off"}},
			}, asks: []fitAsk{{rule: "taper-pairing"}}},
		{name: "pedal", short: "Whether pedals go in crank arms", examples: []string{`--left '9/16 in x 20 tpi LH' --right '9/16 in x 20 tpi' --left-arm '9/16 in x 20 tpi LH' --right-arm '9/16 in x 20 tpi'`},
			fields: []fitField{
				{flag: "left", form: aThread, about: "of the left pedal, with its hand", keys: []string{"pedal-left.thread"}},
				{flag: "right", form: aThread, about: "of the right pedal", keys: []string{"pedal-right.thread"}},
				{flag: "left-arm", form: aThread, about: "in the left arm, with its hand", keys: []string{"crank-arm-left.pedal_thread"}},
				{flag: "right-arm", form: aThread, about: "in the right arm", keys: []string{"crank-arm-right.pedal_thread"}},
			}, asks: []fitAsk{{rule: "pedal-thread"}}},
	}
}

// Fields that several questions about gears have.
func ringsField() fitField {
	return fitField{flag: "rings", form: inTeeth, about: "of the chainrings, as 50/34, or one number for one ring", span: true, keys: []string{"crankset.smallest_ring|crankset.largest_ring"}}
}

func sprocketsField() fitField {
	return fitField{flag: "sprockets", form: inTeeth, about: "of the smallest and the largest sprocket, as 11-34", span: true, keys: []string{"cassette.smallest|cassette.largest"}}
}

func gearQuestions() []fitQuestion {
	countField := fitField{flag: "sprocket-count", form: aNumber, about: "of sprockets", keys: []string{"cassette.sprockets"}}
	stay := fitField{flag: "chainstay", form: inMM, about: "from the middle of the crank axle to that of the rear axle", keys: []string{"frame.chainstay_length"}}
	return []fitQuestion{
		{name: "derailleur", short: "Whether a cassette runs on a rear derailleur",
			long: `Two limits are answered apart: how much slack chain the cage takes up, and how large a
sprocket it clears. An extender of the hanger drops the derailleur about 2 cm; it helps
the largest sprocket and never the capacity (common practice, no source).`,
			examples: []string{"--rings 50/34 --sprockets 11-34 --capacity 39 --largest 34", "--rings 50/34 --sprockets 11-40 --capacity 45 --largest 36 --extender 20"},
			fields: []fitField{ringsField(), sprocketsField(),
				{flag: "capacity", form: inTeeth, about: "the whole capacity marked for the derailleur", keys: []string{"rear-derailleur.capacity"}},
				{flag: "largest", form: inTeeth, about: "the largest sprocket marked for it", keys: []string{"rear-derailleur.largest_sprocket"}},
				{flag: "extender", form: inMM, about: "the drop of an extender of the hanger, hole to hole", keys: []string{"hanger.extender_drop"}},
			}, asks: []fitAsk{{rule: "derailleur-capacity"}, {rule: "largest-sprocket"}}},
		{name: "chain-length", short: "How many pitches a chain needs", examples: []string{"--rings 50/34 --sprockets 11-34 --chainstay 410 --pitches 116"},
			fields: []fitField{ringsField(), sprocketsField(), stay,
				{flag: "pitches", form: aNumber, about: "of pitches that the chain has, inner and outer links counted alike", keys: []string{"chain.pitches"}},
				{flag: "slack-taken-by", form: aWord, about: "what takes up the slack: rear-derailleur, or axle-slots for a single gear", keys: []string{"chain.slack_taken_by"}, usual: "rear-derailleur"},
			}, asks: []fitAsk{{rule: "chain-length"}}},
		{name: "chain", short: "Whether a chain runs on sprockets",
			examples: []string{"--speeds 11 --width 5.5 --sprocket-count 11"},
			fields: []fitField{
				{flag: "speeds", form: aNumber, about: "of sprockets that the chain is made for", keys: []string{"chain.speeds"}},
				{flag: "width", form: inMM, about: "the chain across its rivet heads", keys: []string{"chain.width"}}, countField,
				{flag: "shifter-speeds", form: aNumber, about: "of positions of the shift lever", keys: []string{"shift-lever-rear.speeds"}},
				{flag: "shifter-pull", form: aWord, about: "what its papers call the cable pull of the lever", keys: []string{"shift-lever-rear.family"}},
				{flag: "derailleur-pull", form: aWord, about: "what its papers call the cable pull of the derailleur", keys: []string{"rear-derailleur.family"}},
			}, asks: []fitAsk{{rule: "chain-and-sprockets"}}},
		{name: "chainline", short: "How straight a chain runs", examples: []string{"--front 45 --hub 142 --sprocket-count 11 --chainstay 415"},
			fields: []fitField{
				{flag: "front", form: inMM, about: "from the middle of the frame to the middle of the ring or rings", keys: []string{"frame.chainline"}},
				{flag: "hub", form: inMM, about: "between the inner faces of the frame that the hub comes to lie between", keys: []string{"frame.axle_width"}},
				{flag: "slot", form: inMM, about: "the depth of the slot that the hub drops into on each side", keys: []string{"frame.axle_slot"}}, countField, stay,
			}, asks: []fitAsk{{rule: "chainline"}}},
		{name: "front-derailleur", short: "Whether a front derailleur suits frame and rings",
			examples: []string{"--rings 52/36 --mount band --frame-mount band --band 31.8 --seat-tube 31.8 --most-difference 16"},
			fields: []fitField{ringsField(),
				{flag: "mount", form: aWord, about: "how the derailleur is held: band or tab", keys: []string{"front-derailleur.mount"}},
				{flag: "frame-mount", form: aWord, about: "what the frame has for it: band, tab or none", keys: []string{"frame.front_derailleur_mount"}},
				{flag: "band", form: inMM, about: "the inside of the closed band", keys: []string{"front-derailleur.band"}},
				{flag: "seat-tube", form: inMM, about: "the outside of the seat tube", keys: []string{"frame.seat_tube_outer"}},
				{flag: "seat-tube-shape", form: aWord, about: "the shape of the seat tube: round or shaped", keys: []string{"frame.seat_tube_shape"}, usual: "round"},
				{flag: "most-difference", form: inTeeth, about: "the most between rings that it is marked for", keys: []string{"front-derailleur.most_difference"}},
				{flag: "largest", form: inTeeth, about: "the largest ring that it is marked for", keys: []string{"front-derailleur.most_ring"}},
				{flag: "cage-ring", form: inTeeth, about: "of the ring that its cage is curved for", keys: []string{"front-derailleur.cage_ring"}},
				{flag: "made-for-chainline", form: inMM, about: "the chainline it is made for", keys: []string{"front-derailleur.chainline"}},
				{flag: "chainline", form: inMM, about: "the chainline of the bicycle", keys: []string{"frame.chainline"}},
			}, asks: []fitAsk{{rule: "front-derailleur"}}},
	}
}
