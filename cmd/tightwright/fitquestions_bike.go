package main

func cockpitQuestions() []fitQuestion {
	return []fitQuestion{
		{name: "handlebar", short: "Whether a handlebar goes in a stem", examples: []string{"--bar 31.70 --stem 31.80 --bar-material alloy --stem-material alloy --instrument careful-caliper"},
			fields: []fitField{
				{flag: "bar", form: inMM, about: "across the bar where the stem holds it", keys: []string{"handlebar.clamp_diameter"}},
				{flag: "stem", form: inMM, about: "the bore of the stem for the bar", keys: []string{"stem.bar_bore"}},
				{flag: "bar-material", form: aWord, about: "what the bar is of: " + materialWords, keys: []string{"handlebar.material"}},
				{flag: "stem-material", form: aWord, about: "what the stem is of, one of the same", keys: []string{"stem.material"}},
			}, asks: []fitAsk{{rule: "bar-clamp"}}},
		{name: "steerer", short: "Whether a steerer has the right length for its stack, and suits stem and headset",
			examples: []string{"--length 224.5 --head-tube 145 --headset 22 --spacers 20 --stem-height 40 --diameter 28.6 --stem-bore 28.6 --material alloy --anchor star-nut"},
			fields: []fitField{
				{flag: "length", form: inMM, about: "from the seat of the lower race to the top", keys: []string{"fork.steerer_length"}},
				{flag: "head-tube", form: inMM, about: "the head tube without cups", keys: []string{"frame.head_tube_length"}},
				{flag: "headset", form: inMM, about: "what the headset adds to it", keys: []string{"headset.height"}},
				{flag: "spacers", form: inMM, about: "all spacers under the stem, 0 for none", keys: []string{"headset.spacers"}},
				{flag: "spacers-above", form: inMM, about: "all spacers between stem and cap", keys: []string{"headset.spacers_above"}},
				{flag: "stem-height", form: inMM, about: "the height of the clamp along the steerer", keys: []string{"stem.clamp_height"}},
				{flag: "diameter", form: inMM, about: "across the steerer where the stem clamps", keys: []string{"fork.steerer_diameter"}},
				{flag: "stem-bore", form: inMM, about: "the bore of the stem for the steerer", keys: []string{"stem.steerer_bore"}},
				{flag: "material", form: aWord, about: "what the steerer is of: carbon, alloy, steel or titanium", keys: []string{"fork.steerer_material"}},
				{flag: "top", form: aWord, about: "where the stem clamps: plain or threaded", keys: []string{"fork.steerer_top"}, usual: "plain"},
				{flag: "anchor", form: aWord, about: "what the cap pulls on: expander or star-nut", keys: []string{"steerer-plug.kind"}, usual: "expander"},
				{flag: "spacer-limit", form: inMM, about: "the tallest stack that the fork's papers allow on carbon", keys: []string{"fork.spacer_limit"}},
				{flag: "race-seat", form: inMM, about: "the seat of the lower race on the fork", keys: []string{"fork.crown_race_seat"}},
				{flag: "race-bore", form: inMM, about: "the bore of the lower race", keys: []string{"headset.race_bore"}},
			}, asks: []fitAsk{{rule: "steerer"}}},
		{name: "seatpost", short: "Whether a seatpost goes in a frame, and far enough", examples: []string{"--tube 27.2 --post 27.1 --length 350 --exposed 190 --mark 100"},
			fields: []fitField{
				{flag: "tube", form: inMM, about: "the bore of the seat tube at the clamp", keys: []string{"frame.seat_tube_inner"}},
				{flag: "post", form: inMM, about: "across the post where the collar grips", keys: []string{"seatpost.diameter"}},
				{flag: "shape", form: aWord, about: "the shape of the post: round or shaped", keys: []string{"seatpost.shape"}, usual: "round"},
				{flag: "length", form: inMM, about: "from the lower end to the saddle rails", keys: []string{"seatpost.length"}},
				{flag: "exposed", form: inMM, about: "from the collar to the saddle rails at the rider's height", keys: []string{"seatpost.exposed"}},
				{flag: "mark", form: inMM, about: "from the lower end to the mark of least insertion", keys: []string{"seatpost.mark"}},
				{flag: "junction", form: inMM, about: "from the top of the seat tube to the underside of the top tube", keys: []string{"frame.seat_tube_junction"}},
				{flag: "depth", form: inMM, about: "from the top of the seat tube to the first thing in the way", keys: []string{"frame.seat_tube_depth"}},
			}, asks: []fitAsk{{rule: "seatpost"}}},
		{name: "saddle", short: "Whether saddle rails lie in the cradle of a seatpost", examples: []string{"--rail-width 7 --rail-height 7 --cradle-width 7 --cradle-height 7"},
			fields: []fitField{
				{flag: "rail-width", form: inMM, about: "across one rail from side to side", keys: []string{"saddle.rail_width"}},
				{flag: "rail-height", form: inMM, about: "across one rail from top to bottom", keys: []string{"saddle.rail_height"}},
				{flag: "cradle-width", form: inMM, about: "the width of the groove", keys: []string{"seatpost.cradle_width"}},
				{flag: "cradle-height", form: inMM, about: "the height of the groove, both halves together", keys: []string{"seatpost.cradle_height"}},
			}, asks: []fitAsk{{rule: "saddle-rails"}}},
	}
}

func wheelQuestions() []fitQuestion {
	return []fitQuestion{
		{name: "tyre", short: "Whether a tyre goes on a rim and has room in a frame",
			long: `A wider tyre is checked at three places: between the legs of the fork, between the
chainstays and between the seatstays (common practice, no source). An end of which no
gap is given is left out.`,
			examples: []string{"--tyre 32-622 --rim 622x21 --bike racing --fork-gap 44 --chainstay-gap 44 --seatstay-gap 43"},
			fields: []fitField{
				{flag: "tyre", form: "mark", about: "of the tyre, as 32-622", pair: true, keys: []string{"tire-front.nominal|tire-front.bead_seat", "tire-rear.nominal|tire-rear.bead_seat"}},
				{flag: "rim", form: "mark", about: "of the rim, as 622x21", pair: true, keys: []string{"rim-front.bead_seat|rim-front.inner_width", "rim-rear.bead_seat|rim-rear.inner_width"}},
				{flag: "bike", form: aWord, about: "the kind of bicycle: racing, city-and-trekking, young-adult or mountain", keys: []string{"frame.kind"}},
				{flag: "mud", form: aWord, about: "whether it is ridden in mud: yes or no", keys: []string{"frame.mud"}},
				{flag: "width", form: inMM, about: "the tyre at its widest, on the rim after a day at pressure", keys: []string{"tire-front.width", "tire-rear.width"}},
				{flag: "run-out", form: inMM, about: "how far the rim wanders from side to side (0.5 where nothing is given)", keys: []string{"rim-front.run_out", "rim-rear.run_out"}},
				{flag: "radius", form: inMM, about: "from the middle of the axle to the tread", keys: []string{"tire-front.radius", "tire-rear.radius"}},
				{flag: "fork-gap", form: inMM, about: "the narrowest gap between the fork legs at the tyre", keys: []string{"fork.gap"}},
				{flag: "fork-top", form: inMM, about: "from the middle of the front axle to what is above the tread", keys: []string{"fork.top_radius"}},
				{flag: "chainstay-gap", form: inMM, about: "the narrowest gap between the chainstays at the tyre", keys: []string{"frame.gap_rear"}},
				{flag: "seatstay-gap", form: inMM, about: "the narrowest gap between the seatstays at the tyre", keys: []string{"frame.gap_seatstays"}},
				{flag: "frame-top", form: inMM, about: "from the middle of the rear axle to what is above the tread", keys: []string{"frame.top_radius"}},
			}, asks: []fitAsk{{"tire-front", []string{"fork-gap", "fork-top"}}, {"tire-rear", []string{"chainstay-gap", "seatstay-gap", "frame-top"}}},
			note: "A tyre is checked at fork, chainstays and seatstays, and again on the bike."},
		{name: "axle", short: "Whether a hub and its axle go in a frame or fork",
			examples: []string{"--place rear --hub 142 --inner 135 --slot 3.5 --axle thru-axle --thread M12x1.5 --insert M12x1.5"},
			fields: []fitField{
				{flag: "hub", form: inMM, about: "the hub between its outer faces", keys: []string{"hub-@.width"}},
				{flag: "inner", form: inMM, about: "frame or fork between the inner faces, slots not counted", keys: []string{"~.axle_width"}},
				{flag: "slot", form: inMM, about: "the depth of the slot on each side", keys: []string{"~.axle_slot"}},
				{flag: "axle", form: aWord, about: "what holds the wheel: quick-release, thru-axle or nuts", keys: []string{"hub-@.axle_fixing"}},
				{flag: "thread", form: aThread, about: "of a thru axle, its pitch measured", keys: []string{"axle-@.thread"}},
				{flag: "insert", form: aThread, about: "in frame or fork, its pitch measured", keys: []string{"~.axle_thread"}},
				{flag: "length", form: inMM, about: "the thru axle from under its head to its end", keys: []string{"axle-@.length"}},
				{flag: "engaged", form: inMM, about: "how much thread lies in the insert", keys: []string{"axle-@.engaged"}},
				{flag: "through", form: inMM, about: "what the axle passes before it meets the hub", keys: []string{"~.axle_through"}},
			}, asks: []fitAsk{{rule: "axle-@"}}},
	}
}

func brakeQuestions() []fitQuestion {
	cable := fitField{flag: "kind", keys: []string{"caliper-@.kind"}, usual: "disc-cable", hidden: true}
	flat := fitField{flag: "kind", keys: []string{"caliper-@.kind"}, usual: "disc-hydraulic", hidden: true}
	return []fitQuestion{
		{name: "rotor", short: "Whether a rotor suits a mount, and with which adapter", examples: []string{"--place front --native 160 --rotor 180 --limit 180"},
			fields: []fitField{
				{flag: "native", form: inMM, about: "the rotor that the bare mount is made for", keys: []string{"~.rotor_native"}},
				{flag: "rotor", form: inMM, about: "the rotor that is to go on", keys: []string{"rotor-@.size"}},
				{flag: "limit", form: inMM, about: "the largest rotor printed on frame or fork", keys: []string{"~.rotor_limit"}},
				{flag: "mount", form: aWord, about: "what frame or fork has for a caliper: flat, post, side-tab or none", keys: []string{"~.brake_mount"}},
			}, asks: []fitAsk{{rule: "rotor-size-@"}}},
		{name: "flat-mount-bolt", short: "Whether the bolt of a flat-mount caliper has the right length", examples: []string{"--place rear --through 23 --bolt 31"},
			fields: []fitField{flat, {flag: "mount", keys: []string{"caliper-@.mount"}, usual: "flat", hidden: true},
				{flag: "through", form: inMM, about: "the stay, leg or plate that the bolt passes", keys: []string{"~.brake_mount_thickness"}},
				{flag: "bolt", form: inMM, about: "from under the head of the bolt to its end", keys: []string{"caliper-@.bolt_length"}},
			}, asks: []fitAsk{{rule: "flat-mount-bolt-@"}}},
		{name: "lever-pull", short: "Whether a brake lever pulls the cable that a brake needs", examples: []string{"--place rear --lever drop-bar-pull --brake short-pull"},
			fields: []fitField{cable,
				{flag: "lever", form: aWord, about: "the pull of the lever: short-pull, long-pull or drop-bar-pull", keys: []string{"brake-lever-@.pull"}},
				{flag: "brake", form: aWord, about: "the pull that the brake needs, one of the same", keys: []string{"caliper-@.pull"}},
			}, asks: []fitAsk{{rule: "lever-pull-@"}}},
		{name: "rim-brake", short: "Whether a rim brake suits frame or fork, rim and lever",
			examples: []string{"--place front --kind side-pull --mount drilled-crown --reach 45 --reach-least 39 --reach-most 49 --track present --lever short-pull --brake short-pull"},
			fields: []fitField{
				{flag: "kind", form: aWord, about: "side-pull, two-post, linear-pull or cantilever", keys: []string{"caliper-@.kind"}},
				{flag: "mount", form: aWord, about: "what frame or fork has: drilled-crown (front) or drilled-bridge (rear), two-posts, bosses or none", keys: []string{"~.rim_brake_mount"}},
				{flag: "reach", form: inMM, about: "from the hole or boss to the middle of the brake track", keys: []string{"~.rim_brake_reach"}},
				{flag: "reach-least", form: inMM, about: "from bolt or pivot to the pad at the upper end of its slot", keys: []string{"caliper-@.reach_least"}},
				{flag: "reach-most", form: inMM, about: "the same at the lower end", keys: []string{"caliper-@.reach_most"}},
				{flag: "track", form: aWord, about: "the brake track of the rim: present or none", keys: []string{"rim-@.brake_track"}},
				{flag: "lever", form: aWord, about: "the pull of the lever: short-pull, long-pull or drop-bar-pull", keys: []string{"brake-lever-@.pull"}},
				{flag: "brake", form: aWord, about: "the pull that the brake needs, one of the same", keys: []string{"caliper-@.pull"}},
			}, asks: []fitAsk{{rule: "brake-type-@"}}},
	}
}
