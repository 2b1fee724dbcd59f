package wrench_test

import (
	"encoding/json"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

// Rows of wrench_decisions.csv. The probabilities printed in JCGM 106:2012 were
// recalled, as the rows say, so they only show that nothing is grossly wrong;
// the check from outside is another library's normal distribution.
func TestPublishedProbabilities(t *testing.T) {
	published := 0
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "probability") {
		t.Run(r["id"]+" "+r["notes"], func(t *testing.T) {
			d, err := wrench.Decide(wrench.Question{Min: r["TL"], Max: r["TU"], Reading: r["y"], U: r["u"]})
			require.NoError(t, err)
			closeTo(t, number(t, r["pc"]), d.Probability, 1e-12)
			closeTo(t, number(t, r["p_below_TL"]), d.Below, 1e-12)
			closeTo(t, number(t, r["p_above_TU"]), d.Above, 1e-12)
			agreesWithGonum(t, r, d)
			if r["published"] != "" {
				require.InDelta(t, number(t, r["published"]), d.Probability, 0.005, r["source"])
				published++
			}
		})
	}
	require.Equal(t, 3, published)
}

// agreesWithGonum works the row out with another library's normal distribution.
func agreesWithGonum(tb testing.TB, r row, d wrench.Decision) {
	tb.Helper()
	normal := distuv.Normal{Mu: number(tb, r["y"]), Sigma: number(tb, r["u"])}
	below, above := 0.0, 0.0
	if r["TL"] != "" {
		below = normal.CDF(number(tb, r["TL"]))
	}
	if r["TU"] != "" {
		above = normal.Survival(number(tb, r["TU"]))
	}
	require.InDelta(tb, below, d.Below, 1e-13)
	require.InDelta(tb, above, d.Above, 1e-13)
	require.InDelta(tb, 1-below-above, d.Probability, 1e-13)
}

// The decisions by simple acceptance, guard band and guard band both ways. The
// names of outcomes in the rows are those of ILAC-G8:09/2019 4.2.
func TestPublishedDecisions(t *testing.T) {
	rulesOf := map[string]wrench.Rule{"simple": wrench.Simple, "guarded": wrench.Guarded, "non-binary": wrench.GuardedBothWays}
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "decision") {
		t.Run(r["id"]+" "+r["rule"]+" "+r["notes"], func(t *testing.T) {
			d, err := wrench.Decide(wrench.Question{Min: r["TL"], Max: r["TU"], Reading: r["y"], U: r["u"],
				Rule: rulesOf[r["rule"]], GuardFactor: r["r"], K: r["k"]})
			require.NoError(t, err)
			require.Equal(t, r["decision"], ilacWord(d))
			closeTo(t, number(t, r["pc"]), d.Probability, 1e-12)
			closeTo(t, number(t, r["p_below_TL"]), d.Below, 1e-12)
			closeTo(t, number(t, r["p_above_TU"]), d.Above, 1e-12)
			requireLimit(t, r["AL"], d.AcceptMin)
			requireLimit(t, r["AU"], d.AcceptMax)
		})
	}
}

func ilacWord(d wrench.Decision) string {
	return map[string]string{
		"conforming true": "pass", "nonconforming true": "fail", "nonconforming false": "fail",
		"undecided true": "conditional_pass", "undecided false": "conditional_fail",
	}[d.Outcome.String()+" "+map[bool]string{true: "true", false: "false"}[d.Within]]
}

func requireLimit(tb testing.TB, want, got string) {
	tb.Helper()
	require.Equal(tb, want == "", got == "")
	if want != "" {
		require.Zero(tb, rat(tb, want).Cmp(rat(tb, got)), "%s, not %s", got, want)
	}
}

func TestPublishedAcceptanceLimits(t *testing.T) {
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "acceptance_interval") {
		t.Run(r["id"]+" "+r["notes"], func(t *testing.T) {
			w := new(big.Rat).Mul(rat(t, r["r"]), rat(t, r["U"]))
			require.Zero(t, rat(t, r["w"]).Cmp(w))
			limits, err := wrench.NewLimits(optionalRat(t, r["TL"]), optionalRat(t, r["TU"]))
			require.NoError(t, err)
			accept, err := limits.Guarded(w)
			require.Equal(t, r["expected"] == "error", err != nil)
			requireSame(t, optionalRat(t, r["AL"]), accept.Min())
			requireSame(t, optionalRat(t, r["AU"]), accept.Max())
		})
	}
}

func requireSame(tb testing.TB, want, got *big.Rat) {
	tb.Helper()
	require.Equal(tb, want == nil, got == nil)
	if want != nil {
		require.Zero(tb, want.Cmp(got), "%v, not %v", got, want)
	}
}

// The printed z were recalled too; gonum is the check from outside.
func TestPublishedQuantiles(t *testing.T) {
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "quantile") {
		t.Run(r["required_pc"], func(t *testing.T) {
			level, err := wrench.NewLevel(number(t, r["required_pc"]))
			require.NoError(t, err)
			require.InEpsilon(t, number(t, r["z"]), level.Z(), 1e-13)
			require.InEpsilon(t, number(t, r["r"]), level.GuardFactor(2), 1e-12)
			require.InDelta(t, number(t, r["published"]), level.Z(), 0.005)
			require.InEpsilon(t, distuv.UnitNormal.Quantile(level.Probability()), level.Z(), 1e-12)
		})
	}
}

// ILAC-G8:09/2019 table 1 prints upper bounds of the false acceptance.
func TestPublishedFalseAcceptance(t *testing.T) {
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "guard_factor") {
		t.Run(r["rule"], func(t *testing.T) {
			p := wrench.FalseAcceptance(number(t, r["r"]), number(t, r["k"]))
			require.InEpsilon(t, number(t, r["pfa_at_acceptance_limit"]), p, 1e-12)
			bound := number(t, regexp.MustCompile(`[0-9.]+`).FindString(r["published"])) / 100
			require.LessOrEqual(t, p, bound)
		})
	}
}

func TestRefusedQuestions(t *testing.T) {
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "degenerate") {
		t.Run(r["id"]+" "+r["notes"], func(t *testing.T) {
			d, err := wrench.Decide(wrench.Question{Min: r["TL"], Max: r["TU"], Reading: r["y"], U: r["u"]})
			require.Equal(t, r["expected"] == "error", len(wrench.FieldErrors(err)) > 0)
			require.InDelta(t, number(t, "0"+r["pc"]), d.Probability, 0)
		})
	}
}

func TestDecideTellsAllMistakesAtOnce(t *testing.T) {
	for _, tt := range []struct {
		name string
		q    wrench.Question
		want []string
	}{
		{"nothing", wrench.Question{}, []string{"reading missing", "u missing"}},
		{"no limit", wrench.Question{Reading: "1", U: "1"}, []string{"max missing"}},
		{"everything", wrench.Question{Min: "a", Max: "1e3", Reading: "6,9", U: "-1", Rule: 9, Level: 1, GuardFactor: "-1", K: "0"},
			[]string{"reading malformed-number", "u outside-range", "rule unknown-word", "level outside-range", "k outside-range",
				"guard_factor outside-range", "min malformed-number", "max malformed-number"}},
		{"factor without rule", wrench.Question{Max: "1", Reading: "1", U: "1", K: "2"}, []string{"k contradiction"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := wrench.Decide(tt.q)
			require.Equal(t, tt.want, rules(err))
		})
	}
}

func TestCapability(t *testing.T) {
	for _, r := range ofType(t, vectors(t, "decisions"), "row_type", "capability") {
		t.Run(r["id"], func(t *testing.T) {
			u := new(big.Rat).Quo(rat(t, r["U"]), rat(t, r["k"]))
			limits, err := wrench.NewLimits(rat(t, r["TL"]), rat(t, r["TU"]))
			require.NoError(t, err)
			index, ok := limits.Capability(u)
			require.True(t, ok)
			require.InEpsilon(t, number(t, r["cm"]), index, 1e-15)
		})
	}
	limits, err := wrench.NewLimits(nil, big.NewRat(5, 1))
	require.NoError(t, err)
	_, ok := limits.Capability(big.NewRat(1, 1))
	require.False(t, ok)
}

// input takes "y=5.42 L=4.5 U=5.5 u=0.05" of wrench_rules.csv apart.
func input(text string) map[string]string {
	found := map[string]string{}
	for _, match := range regexp.MustCompile(`([\w -]+)=([0-9.]+)`).FindAllStringSubmatch(text, -1) {
		found[strings.TrimSpace(match[1])] = match[2]
	}
	return found
}

// Rows of wrench_rules.csv: a guard band of 1.6449·u both ways and the decision
// on the probability agree while u is small against the tolerance.
func TestRuleChecks(t *testing.T) {
	words := map[string]wrench.Outcome{"accept": wrench.Conforming, "not_decidable": wrench.Undecided, "reject": wrench.Nonconforming}
	for _, r := range ofType(t, vectors(t, "rules"), "group", "guard_band") {
		t.Run(r["input"], func(t *testing.T) {
			in := input(r["input"])
			probability, word, _ := strings.Cut(r["expected"], " ; ")
			for _, rule := range []wrench.Rule{wrench.ByProbability, wrench.GuardedBothWays} {
				d, err := wrench.Decide(wrench.Question{Min: in["L"], Max: in["U"], Reading: in["y"], U: in["u"], Rule: rule})
				require.NoError(t, err)
				require.InDelta(t, number(t, probability), d.Probability, number(t, r["tolerance"]))
				require.Equal(t, words[word], d.Outcome, rule)
			}
		})
	}
	for _, r := range ofType(t, vectors(t, "rules"), "group", "tur") {
		t.Run(r["input"], func(t *testing.T) {
			in := input(r["input"])
			half, u := rat(t, in["tolerance half-width"]), rat(t, in["expanded uncertainty U"])
			limits, err := wrench.NewLimits(new(big.Rat).Neg(half), half)
			require.NoError(t, err)
			index, _ := limits.Capability(u.Quo(u, big.NewRat(2, 1)))
			require.InDelta(t, number(t, r["expected"]), index, number(t, r["tolerance"]))
		})
	}
}

// With u not small against the tolerance the guard band of one limit accepts
// what is likely enough to lie beyond the other: y = 5.0 in 4.5 to 5.5 with u =
// 0.30 has p_c = 0.904 only.
func TestBothTailsCount(t *testing.T) {
	q := wrench.Question{Min: "4.5", Max: "5.5", Reading: "5.0", U: "0.30", Rule: wrench.GuardedBothWays}
	band, err := wrench.Decide(q)
	require.NoError(t, err)
	require.Equal(t, wrench.Conforming, band.Outcome)
	q.Rule = wrench.ByProbability
	byProbability, err := wrench.Decide(q)
	require.NoError(t, err)
	require.Equal(t, wrench.Undecided, byProbability.Outcome)
	require.InDelta(t, 0.904, byProbability.Probability, 0.0005)
	require.True(t, byProbability.NoAcceptance, "not even the middle conforms")

	q.U = "0.25"
	wide, err := wrench.Decide(q)
	require.NoError(t, err)
	require.False(t, wide.NoAcceptance, "the middle has 95.4 %")
	q.U, q.Rule = "0.40", wrench.Guarded
	none, err := wrench.Decide(q)
	require.NoError(t, err)
	require.True(t, none.NoAcceptance)
	require.Equal(t, []any{wrench.Nonconforming, "", ""}, []any{none.Outcome, none.AcceptMin, none.AcceptMax})
	q.Rule = wrench.GuardedBothWays
	undecided, err := wrench.Decide(q)
	require.NoError(t, err)
	require.Equal(t, wrench.Undecided, undecided.Outcome)
}

func TestDecisionJSON(t *testing.T) {
	d, err := wrench.Decide(wrench.Question{Min: "5", Max: "7", Reading: "6.9", U: "0.1"})
	require.NoError(t, err)
	text, err := json.Marshal(d)
	require.NoError(t, err)
	require.Contains(t, string(text), `"probability":0.841344746`)
	require.Contains(t, string(text), `"outcome":"undecided"`)
	require.Contains(t, string(text), `"rule":"by-probability"`)
}

// Decimals are compared as decimals: 0.1·3 is 0.3 here, though not in floats.
func TestLimitsAreExactAndIncluded(t *testing.T) {
	for _, tt := range []struct {
		name, low, high, reading, u, guard string
		rule                               wrench.Rule
		want                               wrench.Outcome
		within                             bool
	}{
		{"on the maximum", "5", "7", "7.000", "0.2", "", wrench.Simple, wrench.Conforming, true},
		{"a hair over it", "5", "7", "7.000000000000000000000000001", "0.2", "", wrench.Simple, wrench.Nonconforming, false},
		{"on the minimum", "5", "", "5", "0.2", "", wrench.Simple, wrench.Conforming, true},
		{"a hair under it", "5", "", "4.99999999999999999999999999", "0", "", wrench.ByProbability, wrench.Nonconforming, false},
		{"on the maximum without uncertainty", "", "7", "7", "0", "", wrench.ByProbability, wrench.Conforming, true},
		{"on the minimum without uncertainty", "7", "", "7", "0.0", "", wrench.ByProbability, wrench.Conforming, true},
		{"one value without uncertainty", "7", "7", "7", "0", "", wrench.ByProbability, wrench.Conforming, true},
		{"on the acceptance limit", "", "0.9", "0.3", "0.1", "3", wrench.Guarded, wrench.Conforming, true},
		{"a hair over that", "", "0.9", "0.30000000000000001", "0.1", "3", wrench.Guarded, wrench.Nonconforming, true},
		{"on the outer limit", "", "0.9", "1.5", "0.1", "3", wrench.GuardedBothWays, wrench.Undecided, false},
		{"a hair over that too", "", "0.9", "1.50000000000000001", "0.1", "3", wrench.GuardedBothWays, wrench.Nonconforming, false},
		{"one value left", "0.1", "0.7", "0.4", "0.1", "1.5", wrench.Guarded, wrench.Conforming, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := wrench.Decide(wrench.Question{Min: tt.low, Max: tt.high, Reading: tt.reading, U: tt.u, GuardFactor: tt.guard, Rule: tt.rule})
			require.NoError(t, err)
			require.Equal(t, tt.want, d.Outcome)
			require.Equal(t, tt.within, d.Within)
		})
	}
}

func TestLimits(t *testing.T) {
	for _, tt := range []struct {
		name string
		w    torque.FigureWindow
		want string
	}{
		{"both", torque.FigureWindow{Min: figure(t, "5.0", torque.NewtonMeters), Max: figure(t, "100", torque.PoundForceInches)}, "5 to 11.29848290276167"},
		{"maximum", torque.FigureWindow{Max: figure(t, "7", torque.NewtonMeters)}, "at most 7"},
		{"minimum", torque.FigureWindow{Min: figure(t, "7", torque.NewtonMeters)}, "at least 7"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			limits, err := wrench.LimitsOf(tt.w)
			require.NoError(t, err)
			require.Equal(t, tt.want, limits.String())
		})
	}
	_, err := wrench.LimitsOf(torque.FigureWindow{})
	require.Equal(t, []string{"max missing"}, rules(err))
	require.Equal(t, "no limit", wrench.Limits{}.String())
	require.True(t, wrench.Limits{}.IsZero())
	require.False(t, wrench.Limits{}.Contain(new(big.Rat)))

	low := big.NewRat(5, 1)
	limits, err := wrench.NewLimits(low, nil)
	require.NoError(t, err)
	low.SetInt64(6)
	require.True(t, limits.Contain(big.NewRat(5, 1)), "limits keep a copy")
}
