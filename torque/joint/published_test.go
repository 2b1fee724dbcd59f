package joint_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/joint"
)

var update = flag.Bool("update", false, "write the table of published sets anew")

// How far a set of figures is evidence.
const (
	isRead     = "read"
	isRecalled = "from memory: no evidence"
	isComputed = "same model: checks the arithmetic only"
)

// A published set is a table from outside, held against this package.
type publishedSet struct {
	name, quantity, source, standing string
	tolerance                        float64 // largest deviation allowed, as a share
	rows                             []deviation
	leftOut                          []string // rows not held against, and why
}

type deviation struct {
	name  string
	share float64 // ours over theirs, less 1
}

func (s *publishedSet) add(name string, ours, theirs float64) {
	s.rows = append(s.rows, deviation{name, ours/theirs - 1})
}

func (s *publishedSet) summary() (mean, rms, most float64) {
	for _, r := range s.rows {
		mean += r.share / float64(len(s.rows))
		rms += r.share * r.share / float64(len(s.rows))
		most = max(most, math.Abs(r.share))
	}
	return mean, math.Sqrt(rms), most
}

// TestPublishedSets holds every published set against this package and prints
// the table of deviations (go test -run TestPublishedSets -v). With -update it
// writes testdata/published.md, which otherwise has to agree.
func TestPublishedSets(t *testing.T) {
	var text strings.Builder
	text.WriteString("| published set | source | standing | rows | quantity | mean | rms | largest | allowed |\n")
	text.WriteString("|---|---|---|---:|---|---:|---:|---:|---:|\n")
	var notes []string
	counted := map[string]int{}
	for _, s := range allSets(t) {
		counted[s.standing] += len(s.rows)
		require.NotEmpty(t, s.rows, s.name)
		for _, r := range s.rows {
			require.LessOrEqual(t, math.Abs(r.share), s.tolerance+1e-9, "%s, %s: %s (%s)", s.name, s.quantity, r.name, s.source)
		}
		mean, rms, most := s.summary()
		fmt.Fprintf(&text, "| %s | %s | %s | %d | %s | %s | %.2f %% | %.2f %% | %s %% |\n",
			s.name, s.source, s.standing, len(s.rows), s.quantity, signed(mean), 100*rms, 100*most, short(100*s.tolerance))
		for _, n := range s.leftOut {
			notes = append(notes, fmt.Sprintf("Not held against %s, %s: %s.", s.name, s.quantity, n))
		}
	}
	fmt.Fprintf(&text, "\nEvidence: %d figures read in published sets. Not counted as evidence: %d from memory, %d worked out by the same model.\n",
		counted[isRead], counted[isRecalled], counted[isComputed])
	if len(notes) > 0 {
		text.WriteString("\n" + strings.Join(notes, "\n") + "\n")
	}
	t.Log("\n" + text.String())
	path := filepath.Join("testdata", "published.md")
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text.String()), 0o644))
	}
	golden, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(golden), text.String(), "run go test -run TestPublishedSets -update")
}

// signed writes a mean deviation so that noise of rounding has no sign.
func signed(share float64) string {
	if math.Abs(share) < 0.00005 {
		return "0.00 %"
	}
	return fmt.Sprintf("%+.2f %%", 100*share)
}

func short(x float64) string { return fmt.Sprintf("%.3g", x) }

func allSets(t testing.TB) []*publishedSet {
	t.Helper()
	var all []*publishedSet
	all = append(all, areaSets(t)...)
	all = append(all, loadSets(t)...)
	all = append(all, preloadSets(t)...)
	all = append(all, stripSets(t)...)
	all = append(all, workedSets(t)...)
	return append(all, clampSets(t)...)
}

// areaSets are the stress areas of ISO 898-1 and ASME B1.1.
func areaSets(t testing.TB) []*publishedSet {
	t.Helper()
	metric := &publishedSet{name: "metric stress areas", source: "ISO 898-1, as quoted", standing: isRead, quantity: "As", tolerance: 0.004}
	for _, row := range vectors(t, "joint_threads_metric.csv") {
		if row["As_tab_mm2"] != "" && row["confidence"] == "confirmed" {
			metric.add(row["designation"], mustParse(t, row["designation"]).BasicProfile().StressAreaMM2, number(t, row["As_tab_mm2"]))
		}
	}
	inch := &publishedSet{name: "unified stress areas", source: "ASME B1.1, as quoted", standing: isRead, quantity: "At", tolerance: 0.004}
	for _, row := range vectors(t, "joint_threads_inch.csv") {
		inch.add(row["designation"], mustParse(t, row["designation"]).UnifiedStressAreaMM2(), number(t, row["At_tab_in2"])*25.4*25.4)
	}
	return []*publishedSet{metric, inch}
}

// loadSets are the proof and tensile loads of ISO 898-1 and ISO 8839.
func loadSets(t testing.TB) []*publishedSet {
	t.Helper()
	const iso898 = "ISO 898-1, as quoted in public manufacturer tables"
	proof := &publishedSet{name: "proof loads", source: iso898, standing: isRead, quantity: "proof load", tolerance: 0.005}
	tensile := &publishedSet{name: "ultimate loads", source: iso898, standing: isRead, quantity: "tensile load", tolerance: 0.005}
	for _, row := range vectors(t, "joint_proof_loads.csv") {
		loads, err := mustClass(t, row["class"]).Loads(mustParse(t, row["thread"]))
		require.NoError(t, err)
		name := row["thread"] + " " + row["class"]
		proof.add(name, loads.ProofNewtons, number(t, row["proof_load_N"]))
		if row["tensile_load_N"] != "" {
			tensile.add(name, loads.TensileNewtons, number(t, row["tensile_load_N"]))
		}
	}
	soft := &publishedSet{name: "breaking loads, non-ferrous", source: "ISO 8839, public manufacturer table", standing: isRead, quantity: "tensile load", tolerance: 0.005}
	for _, row := range vectors(t, "joint_nonferrous_loads.csv") {
		loads, err := mustClass(t, row["class"]).Loads(mustParse(t, row["thread"]))
		require.NoError(t, err)
		soft.add(row["thread"]+" "+row["class"], loads.TensileNewtons, number(t, row["tensile_load_N"]))
	}
	return []*publishedSet{proof, tensile, soft}
}

func mustClass(tb testing.TB, text string) joint.Class {
	tb.Helper()
	c, err := joint.ParseClass(text)
	require.NoError(tb, err)
	return c
}

// stripSets are the strip areas at one diameter of engagement.
func stripSets(t testing.TB) []*publishedSet {
	t.Helper()
	const book = "Introduction to the Design and Behavior of Bolted Joints, 4th ed., as quoted"
	sets := map[string][2]*publishedSet{}
	var list []*publishedSet
	for _, system := range []struct {
		name      string
		tolerance float64
	}{{"metric", 0.001}, {"inch", 0.02}} {
		name := "strip areas, " + system.name
		outer := &publishedSet{name: name, source: book, standing: isRead, quantity: "bolt thread", tolerance: system.tolerance}
		inner := &publishedSet{name: name, source: book, standing: isRead, quantity: "part thread", tolerance: system.tolerance}
		sets[system.name] = [2]*publishedSet{outer, inner}
		list = append(list, outer, inner)
	}
	fits := map[string]joint.Fit{"6H/6g": joint.Fit6H6g, "6H/4g6g": joint.Fit6H4g6g, "2A/2B": joint.Fit2B2A, "3A/3B": joint.Fit3B3A}
	for _, row := range vectors(t, "joint_strip_areas.csv") {
		limits, err := mustParse(t, row["designation"]).Limits(fits[row["fit"]])
		require.NoError(t, err)
		unit := map[string]float64{"mm": 1, "in": 25.4}[row["unit_len"]]
		engaged := number(t, row["engagement"]) * unit
		name, pair := row["designation"]+" "+row["fit"], sets[row["system"]]
		pair[0].add(name, limits.OuterStripAreaMM2(engaged), number(t, row["outer_strip"])*unit*unit)
		pair[1].add(name, limits.InnerStripAreaMM2(engaged), number(t, row["inner_strip"])*unit*unit)
	}
	return list
}
