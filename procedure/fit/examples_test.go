package fit_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// given are the inputs of one worked example: "key=value; key=value".
type given struct {
	testing.TB
	values map[string]string
	used   map[string]bool
}

func parseGiven(tb testing.TB, text string) given {
	tb.Helper()
	g := given{tb, map[string]string{}, map[string]bool{}}
	for pair := range strings.SplitSeq(text, ";") {
		key, value, ok := strings.Cut(strings.TrimSpace(pair), "=")
		require.True(tb, ok, pair)
		g.values[key] = value
	}
	return g
}

func (g given) text(key string) string { g.used[key] = true; return g.values[key] }

func (g given) length(key string) fit.Length {
	if g.text(key) == "" {
		return 0
	}
	l, err := fit.ParseLength(g.text(key))
	require.NoError(g, err, key)
	return l
}

func (g given) number(key string) int {
	n, err := strconv.Atoi(g.text(key))
	require.NoError(g, err, key)
	return n
}

func (g given) pair(key, separator string) (first, second int) {
	a, b, _ := strings.Cut(g.text(key), separator)
	first, err1 := strconv.Atoi(a)
	second, err2 := strconv.Atoi(b)
	require.NoError(g, err1, key)
	require.NoError(g, err2, key)
	return first, second
}

func (g given) thread(key string) joint.Thread {
	if g.text(key) == "" {
		return joint.Thread{}
	}
	t, err := joint.ParseThread(g.text(key))
	require.NoError(g, err, key)
	return t
}

func (g given) gears() fit.Gears {
	var gears fit.Gears
	gears.BigRing, gears.SmallRing = g.pair("rings", "/")
	gears.SmallSprocket, gears.BigSprocket = g.pair("sprockets", "-")
	return gears
}

func one(r fit.Result, err error) ([]fit.Result, error) { return []fit.Result{r}, err }

// rules runs one rule on the inputs of an example.
var rules = map[string]func(given, fit.Instrument) ([]fit.Result, error){
	"body-length": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return one(fit.BodyLength(g.length("body"), g.length("made for"), g.length("own spacer"), ins))
	},
	"derailleur-capacity": func(g given, _ fit.Instrument) ([]fit.Result, error) {
		return one(fit.DerailleurCapacity(g.gears(), g.number("marked")))
	},
	"largest-sprocket": func(g given, _ fit.Instrument) ([]fit.Result, error) {
		return one(fit.LargestSprocket(g.number("sprocket"), g.number("marked"), g.length("extender")))
	},
	"chain-length": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return one(fit.ChainLength(g.gears(), g.length("chainstay"), g.number("pitches"), ins))
	},
	"chain-clearance": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return one(fit.ChainClearance(g.length("pitch"), g.length("thickness"), g.length("chain"), ins))
	},
	"shell-and-spindle": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		t := g.thread("thread")
		return fit.ShellAndSpindle(fit.Shell{
			Width: g.length("shell"), CrankWidth: g.length("crank needs"), Spacer: g.length("spacer"),
			Spindle: g.text("spindle"), Bore: g.length("bore"), CupBore: g.length("bore"),
			Drive: t.WithHand(joint.LeftHand), NonDrive: t, CupDrive: t.WithHand(joint.LeftHand), CupNonDrive: t,
		}, ins)
	},
	"chainline": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return fit.Chainline(fit.ChainRun{
			Front: g.length("front"), Hub: g.length("hub"), Chainstay: g.length("chainstay"),
			Sprockets: fit.SprocketFamilies()[g.number("speeds")-8],
		}, ins)
	},
	"tyre-clearance": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		nominal, seat := g.pair("tyre", "-")
		return fit.TireClearance(fit.Tire{
			Nominal: fit.Length(nominal) * fit.Millimeter, BeadSeat: fit.Length(seat) * fit.Millimeter,
			RimSeat: fit.Length(seat) * fit.Millimeter, RimInner: g.length("rim inner"), Gap: g.length("gap"),
			RunOut: g.length("run-out"), IsRacing: g.text("racing") == "yes",
		}, ins)
	},
	"rotor-size": func(g given, _ fit.Instrument) ([]fit.Result, error) {
		return one(fit.RotorSize(fit.Rotor{Native: g.length("native"), Size: g.length("rotor"), Max: g.length("max")}))
	},
	"flat-mount-bolt": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return one(fit.FlatMountBolt(g.length("stay"), g.length("bolt"), ins))
	},
	"seatpost": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return fit.SeatpostFit(fit.Seatpost{
			Tube: g.length("tube"), Post: g.length("post"), PostLength: g.length("length"), Exposed: g.length("exposed"),
		}, ins)
	},
	"steerer-stack": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return fit.SteererStack(fit.Steerer{
			Length: g.length("steerer"), HeadTube: g.length("head tube"), Headset: g.length("headset"),
			Spacers: g.length("spacers"), Stem: g.length("stem"),
		}, ins)
	},
	"axle": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return fit.AxleFit(fit.Axle{
			Hub: g.length("hub"), Inner: g.length("inner"), Slot: g.length("slot"),
			Thread: g.thread("axle"), Insert: g.thread("insert"),
		}, ins)
	},
	"front-derailleur": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		big, next := g.pair("rings", "/")
		return fit.FrontDerailleurFit(fit.FrontDerailleur{
			BigRing: big, NextRing: next, MostDifference: g.number("most difference"),
			Band: g.length("band"), SeatTube: g.length("seat tube"), IsTubeRound: true,
		}, ins)
	},
	"bar-clamp": func(g given, ins fit.Instrument) ([]fit.Result, error) {
		return one(fit.BarClamp(fit.Bar{Diameter: g.length("bar"), Bore: g.length("bore")}, ins))
	},
	"brake-kind": func(g given, _ fit.Instrument) ([]fit.Result, error) {
		return fit.BrakeKind(fit.Brake{
			Kind: g.text("kind"), Mount: g.text("mount"), Caliper: g.text("caliper"),
			HubSeat: g.text("hub seat"), Rotor: g.text("rotor"),
			LeverFluid: g.text("lever fluid"), CaliperFluid: g.text("caliper fluid"),
			HasTrack: g.text("track") == "yes", HasBoss: g.text("boss") == "yes",
			LeverPull: g.text("lever pull"), Needs: g.text("needs"),
		})
	},
}

// TestWorkedExamples runs the worked examples of fit_examples.csv, computed by
// hand from the rules; the source of each rule's limit stands in its row. Most
// limits are common practice without a published source, so these rows show
// that the rules compute what a careful shop computes, not that the limits are
// right.
func TestWorkedExamples(t *testing.T) {
	for _, row := range vectors(t, "fit_examples.csv") {
		t.Run(row["name"], func(t *testing.T) {
			ins, ok := fit.InstrumentNamed(row["instrument"])
			require.True(t, ok, row["instrument"])
			g := parseGiven(t, row["inputs"])
			results, err := rules[row["rule"]](g, ins)
			require.NoError(t, err)
			for key := range g.values {
				require.True(t, g.used[key], "input %q is not used", key)
			}
			r := byCheck(t, results, row["check"])
			require.Equal(t, row["rule"], r.Rule)
			require.Equal(t, row["verdict"], r.Verdict.String(), r.Why)
			require.Contains(t, r.Measured+"\n"+r.Limit+"\n"+r.String(), row["shows"])
			require.True(t, row["margin"] == "" || row["margin"] == r.Margin.String(), "margin %q, want %q", r.Margin, row["margin"])
			require.NotEmpty(t, row["source"])
		})
	}
}

// byCheck finds the result for one point of a rule.
func byCheck(tb testing.TB, results []fit.Result, check string) fit.Result {
	tb.Helper()
	for _, r := range results {
		if r.Check == check {
			return r
		}
	}
	require.Fail(tb, "no result", check)
	return fit.Result{}
}

// vectors reads a table of check values, one map a row by column name.
func vectors(tb testing.TB, name string) []map[string]string {
	tb.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "vectors", name))
	require.NoError(tb, err)
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(tb, err)
	require.Greater(tb, len(lines), 1)
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}
