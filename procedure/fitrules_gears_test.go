package procedure_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"pgregory.net/rapid"
)

// attrs are attributes of a sheet by "role.attribute".
type attrs map[string]string

// gearsSheet is a road bike with two rings and eleven sprockets, changed by is;
// an empty value takes an attribute away.
func gearsSheet(is attrs) *procedure.Sheet {
	all := attrs{
		"frame.chainline": "45 mm", "frame.chainstay_length": "415 mm", "frame.axle_width": "142 mm",
		"frame.front_derailleur_mount": "band", "frame.seat_tube_outer": "31.80 mm", "frame.seat_tube_shape": "round",
		"hanger.extender": "none", "rear-derailleur.capacity": "39", "rear-derailleur.largest_sprocket": "34",
		"front-derailleur.mount": "band", "front-derailleur.band": "31.8 mm", "front-derailleur.most_difference": "16",
		"crankset.largest_ring": "50", "crankset.smallest_ring": "34",
		"cassette.sprockets": "11", "cassette.smallest": "11", "cassette.largest": "34",
		"chain.speeds": "11", "chain.width": "5.5 mm", "chain.pitches": "116", "chain.slack_taken_by": "rear-derailleur",
	}
	for key, value := range is {
		all[key] = value
	}
	parts := map[string]map[string]string{}
	for key, value := range all {
		role, name, _ := strings.Cut(key, ".")
		if parts[role] == nil {
			parts[role] = map[string]string{}
		}
		if value != "" {
			parts[role][name] = value
		}
	}
	s := &procedure.Sheet{Build: "gears", Label: "invented"}
	for role, is := range parts {
		s.Parts = append(s.Parts, procedure.Part{Role: role, Material: "alloy", Is: is})
	}
	return s
}

// gearsFit plans a job of one step with this fit rule on the bike.
func gearsFit(t require.TestingT, rule string, is attrs) *procedure.Plan {
	res, err := procedure.Resolve(&procedure.Definition{
		ID: "gears", Title: "Gears", Edition: 1, About: "Gears.", Risk: procedure.RiskOther, Minutes: 2, LeastMinutes: 1,
		Source: procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory},
		Roles:  []string{"frame", "chain"}, Fit: []string{rule},
		Steps: []procedure.Step{{ID: "look", Title: "Look", Do: "Look.", Why: "To see.", Accept: "Seen.",
			Checks: []procedure.Check{{ID: "seen", Kind: procedure.Look, Ask: "Seen?"}},
			Rework: []procedure.Rework{{If: "not seen", Do: "Look again."}}}},
	}, nil)
	require.NoError(t, err)
	plan, err := procedure.NewPlan(res, gearsSheet(is), nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return plan
}

// fitOf returns what a plan says for one check of a rule.
func fitOf(t require.TestingT, p *procedure.Plan, check string) procedure.PlannedFit {
	for _, f := range p.Fit {
		if f.Check == check {
			return f
		}
	}
	require.Fail(t, "no such check", "%q in %v, findings %v", check, p.Fit, p.Findings)
	return procedure.PlannedFit{}
}

// gearsExample turns the inputs of a worked example into attributes of a sheet.
func gearsExample(t testing.TB, rule, inputs string) attrs {
	t.Helper()
	in := attrs{}
	for pair := range strings.SplitSeq(inputs, "; ") {
		key, value, ok := strings.Cut(pair, "=")
		require.True(t, ok, pair)
		in[key] = value
	}
	out := attrs{}
	direct := map[string]string{
		"derailleur-capacity/marked": "rear-derailleur.capacity", "largest-sprocket/sprocket": "cassette.largest",
		"largest-sprocket/marked": "rear-derailleur.largest_sprocket", "largest-sprocket/extender": "hanger.extender_drop",
		"chain-length/chainstay": "frame.chainstay_length", "chain-length/pitches": "chain.pitches",
		"chainline/front": "frame.chainline", "chainline/hub": "frame.axle_width", "chainline/speeds": "cassette.sprockets",
		"chainline/chainstay": "frame.chainstay_length", "front-derailleur/most difference": "front-derailleur.most_difference",
		"front-derailleur/band": "front-derailleur.band", "front-derailleur/seat tube": "frame.seat_tube_outer",
	}
	for key, value := range in {
		switch key {
		case "rings":
			out["crankset.largest_ring"], out["crankset.smallest_ring"], _ = strings.Cut(value, "/")
		case "sprockets":
			out["cassette.smallest"], out["cassette.largest"], _ = strings.Cut(value, "-")
		default:
			require.Contains(t, direct, rule+"/"+key)
			out[direct[rule+"/"+key]] = value
		}
	}
	return out
}

// The worked examples of the trade give the same answer on a build sheet
// (testdata/vectors/fit_examples.csv names the source of each: common practice,
// no source).
func TestWorkedExamplesOfTheGearsOnASheet(t *testing.T) {
	f, err := os.Open("../testdata/vectors/fit_examples.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	tied := map[string]int{"derailleur-capacity": 0, "largest-sprocket": 0, "chain-length": 0, "chainline": 0, "front-derailleur": 0}
	for _, row := range rows[1:] {
		name, rule, check, inputs, verdict := row[0], row[1], row[2], row[3], row[5]
		if _, ok := tied[rule]; !ok {
			continue
		}
		tied[rule]++
		t.Run(name, func(t *testing.T) {
			got := fitOf(t, gearsFit(t, rule, gearsExample(t, rule, inputs)), check)
			require.Equal(t, verdict, got.Verdict, "%+v", got)
			if row[6] != "" {
				require.Equal(t, row[6], got.Margin)
			}
		})
	}
	for rule, count := range tied {
		require.Positive(t, count, rule)
	}
}

// Chains on the next kind of sprocket: -0.09 mm and -0.01 mm do not run, 0.19 mm
// does (worked examples of the trade, common practice, no source). A chain for
// up to eight serves up to eight.
func TestChainAndSprocketsOnASheet(t *testing.T) {
	for _, tc := range []struct {
		name                     string
		speeds, width, sprockets string
		speedsFit, gapFit        string
	}{
		{"eight on nine", "8", "7.1 mm", "9", "does not fit", "does not fit"},
		{"ten on eleven", "10", "5.9 mm", "11", "does not fit", "does not fit"},
		{"eleven on eleven", "11", "5.5 mm", "11", "fits", "fits"},
		{"eight on seven", "8", "7.1 mm", "7", "fits", "try and measure"},
		{"eight on eight", "8", "7.1 mm", "8", "fits", "fits"},
		{"nine on eight", "9", "6.6 mm", "8", "does not fit", "fits"},
		{"wide ten on ten", "10", "6.2 mm", "10", "fits", "try and measure"},
		{"twelve on eleven", "12", "5.3 mm", "11", "does not fit", "fits"},
		{"one on one", "1", "8.6 mm", "1", "fits", "fits"},
		{"eight on one", "8", "7.1 mm", "1", "try and measure", "fits"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := gearsFit(t, "chain-and-sprockets", attrs{"chain.speeds": tc.speeds, "chain.width": tc.width, "cassette.sprockets": tc.sprockets})
			require.Len(t, p.Fit, 2)
			require.Equal(t, tc.speedsFit, fitOf(t, p, "speeds").Verdict)
			require.Equal(t, tc.gapFit, fitOf(t, p, "gap").Verdict)
		})
	}
}

// A shift lever belongs to sprockets and derailleur by count and by pull
// (common practice, no source); a pull nobody looked up leaves it open.
func TestShiftLeverOnASheet(t *testing.T) {
	for _, tc := range []struct{ name, speeds, lever, derailleur, verdict string }{
		{"same", "11", "long pull", "Long pull", "fits"},
		{"another count", "10", "long pull", "long pull", "does not fit"},
		{"another pull", "11", "long pull", "short pull", "does not fit"},
		{"not looked up", "11", "long pull", "", "try and measure"},
		{"another count, not looked up", "12", "", "", "does not fit"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := gearsFit(t, "chain-and-sprockets", attrs{"shift-lever-rear.speeds": tc.speeds,
				"shift-lever-rear.family": tc.lever, "rear-derailleur.family": tc.derailleur})
			require.Equal(t, tc.verdict, fitOf(t, p, "shifter").Verdict)
		})
	}
}

// Common practice, no source: a hanger extender helps the largest sprocket and
// leaves the capacity as it is.
func TestExtenderHelpsTheSprocketNotTheCapacity(t *testing.T) {
	large := attrs{"cassette.largest": "38", "crankset.largest_ring": "40", "crankset.smallest_ring": "40"}
	extended := attrs{"hanger.extender": "fitted", "hanger.extender_drop": "20 mm"}
	for key, value := range large {
		extended[key] = value
	}
	require.Equal(t, "does not fit", fitOf(t, gearsFit(t, "largest-sprocket", large), "").Verdict)
	require.Equal(t, "fits with", fitOf(t, gearsFit(t, "largest-sprocket", extended), "").Verdict)
	rapid.Check(t, func(rt *rapid.T) {
		is := attrs{"rear-derailleur.capacity": rapid.SampledFrom([]string{"25", "33", "39", "41", "47"}).Draw(rt, "capacity"),
			"cassette.largest": rapid.SampledFrom([]string{"28", "34", "36", "42", "52"}).Draw(rt, "sprocket")}
		bare := fitOf(rt, gearsFit(rt, "derailleur-capacity", is), "")
		is["hanger.extender_drop"] = rapid.SampledFrom([]string{"5 mm", "20 mm", "40 mm"}).Draw(rt, "drop")
		require.Equal(rt, bare, fitOf(rt, gearsFit(rt, "derailleur-capacity", is), ""))
	})
}

// Chain lengths of the trade's worked examples: 110 pitches for 410 mm, 50 and
// 34 teeth; 114 for 435 mm, 32 and 52 (roller chain geometry; two pitches for
// the derailleur: common practice, no source). A long chain is cut to it.
func TestPitchesOfTheCutChain(t *testing.T) {
	one := attrs{"crankset.largest_ring": "32", "crankset.smallest_ring": "32", "cassette.smallest": "10", "cassette.largest": "52",
		"frame.chainstay_length": "435 mm", "chain.pitches": "126"}
	for _, tc := range []struct {
		name             string
		is               attrs
		verdict, pitches string
	}{
		{"cut", attrs{"frame.chainstay_length": "410 mm"}, "fits with", "110"},
		{"as it comes", attrs{"frame.chainstay_length": "410 mm", "chain.pitches": "110"}, "fits", "110"},
		{"too short", attrs{"frame.chainstay_length": "410 mm", "chain.pitches": "108"}, "does not fit", "108"},
		{"one ring", one, "fits with", "114"},
		// 50 x 34 at 417.8 mm needs 110.0 pitches: the tape cannot tell 110 from 112.
		{"at the edge of a pair", attrs{"frame.chainstay_length": "417.8 mm", "chain.pitches": "110"}, "try and measure", "110"},
		{"cut at the edge of a pair", attrs{"frame.chainstay_length": "417.8 mm"}, "fits with", "112"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := fitOf(t, gearsFit(t, "chain-length", tc.is), "")
			require.Equal(t, tc.verdict, got.Verdict, got.Why)
			require.Equal(t, tc.pitches, got.Numbers["pitches"])
		})
	}
}

// With the axle in slots nothing is added for a derailleur. Equal wheels make
// the sum exact by hand: twice 406.4 mm is 64 pitches, half of 17 + 17 round
// each wheel makes 17 more, 81 in all and 82 as an even number.
func TestChainOfASingleGear(t *testing.T) {
	is := attrs{"crankset.largest_ring": "17", "crankset.smallest_ring": "17", "cassette.smallest": "17", "cassette.largest": "17",
		"cassette.sprockets": "1", "frame.chainstay_length": "406.4 mm", "chain.slack_taken_by": "axle-slots"}
	for _, tc := range []struct{ name, pitches, verdict, after string }{
		{"long", "112", "try and measure", "82"},
		{"right", "82", "try and measure", "82"},
		{"a pair short, within the slots", "80", "try and measure", "80"},
		{"too short", "78", "does not fit", "78"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			is["chain.pitches"] = tc.pitches
			got := fitOf(t, gearsFit(t, "chain-length", is), "")
			require.Equal(t, tc.verdict, got.Verdict)
			require.Equal(t, tc.after, got.Numbers["pitches"])
			require.Contains(t, got.Limit, "82 pitches")
		})
	}
}

// A hub of 142 mm is one of 135 mm with slots of 3.5 mm, and one of 148 mm sits in
// such slots of a frame 141 mm wide (common practice, no source); a measured width counts as the usual one near it.
func TestChainlineOnASheet(t *testing.T) {
	usual := fitOf(t, gearsFit(t, "chainline", nil), "angle")
	slots := fitOf(t, gearsFit(t, "chainline", attrs{"frame.axle_width": "135 mm", "frame.axle_slot": "3.5 mm"}), "angle")
	near := fitOf(t, gearsFit(t, "chainline", attrs{"frame.axle_width": "142.4 mm"}), "angle")
	require.Equal(t, usual, slots)
	require.Equal(t, usual, near)
	wide := fitOf(t, gearsFit(t, "chainline", attrs{"frame.axle_width": "148 mm"}), "angle")
	require.NotEqual(t, usual, wide)
	require.Equal(t, wide, fitOf(t, gearsFit(t, "chainline", attrs{"frame.axle_width": "141 mm", "frame.axle_slot": "3.5 mm"}), "angle"))
	for _, is := range []attrs{{"frame.axle_width": "120 mm"}, {"cassette.sprockets": "1"}} {
		require.Equal(t, "try and measure", fitOf(t, gearsFit(t, "chainline", is), "").Verdict)
	}
}

func TestFrontDerailleurOnASheet(t *testing.T) {
	for _, tc := range []struct {
		name           string
		is             attrs
		check, verdict string
	}{
		{"band on its tube", nil, "mount", "fits"},
		{"band on another tube", attrs{"frame.seat_tube_outer": "34.9 mm"}, "mount", "does not fit"},
		{"band on a shaped tube", attrs{"frame.seat_tube_shape": "shaped"}, "mount", "does not fit"},
		{"band where the frame allows none", attrs{"frame.front_derailleur_mount": "none"}, "mount", "does not fit"},
		{"tab on a tab", attrs{"front-derailleur.mount": "tab", "frame.front_derailleur_mount": "tab", "front-derailleur.band": ""}, "mount", "fits"},
		{"tab on a round tube", attrs{"front-derailleur.mount": "tab"}, "mount", "fits with"},
		{"rings too far apart", attrs{"crankset.largest_ring": "52"}, "ring difference", "does not fit"},
		{"big ring", attrs{"front-derailleur.most_ring": "48"}, "big ring", "does not fit"},
		{"cage for another ring", attrs{"front-derailleur.cage_ring": "44"}, "cage", "does not fit"},
		{"chainline of its design", attrs{"front-derailleur.chainline": "43.5 mm"}, "chainline", "try and measure"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := fitOf(t, gearsFit(t, "front-derailleur", tc.is), tc.check)
			require.Equal(t, tc.verdict, got.Verdict, "%+v", got)
		})
	}
}

// What a rule cannot do without stops the plan and is named; nothing is assumed.
func TestGearsRulesSayWhatIsMissing(t *testing.T) {
	for _, rule := range []string{"chain-and-sprockets", "derailleur-capacity", "largest-sprocket", "chain-length", "chainline", "front-derailleur"} {
		needs, _, _, ok := procedure.FitRuleUses(rule)
		require.True(t, ok, rule)
		for _, key := range needs {
			p := gearsFit(t, rule, attrs{key: ""})
			require.True(t, p.Blocked(), "%s without %s", rule, key)
			require.Empty(t, p.Fit)
			require.Equal(t, key, p.Findings[0].About)
		}
	}
	for key, value := range (attrs{"front-derailleur.band": "", "front-derailleur.most_ring": "many"}) {
		p := gearsFit(t, "front-derailleur", attrs{key: value})
		require.True(t, p.Blocked(), key)
		require.Contains(t, p.Findings[0].Text, key)
	}
}
