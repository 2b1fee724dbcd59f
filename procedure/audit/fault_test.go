package audit_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/torque/joint"
)

// A want is the part of a finding that a planted fault has to give.
type want struct {
	rule    string
	step    string
	item    string
	because string
	status  audit.Status
	note    bool
}

func (w want) in(t testing.TB, found []audit.Finding) audit.Finding {
	t.Helper()
	for _, f := range of(found, w.rule) {
		if f.Step == w.step && f.Item == w.item && f.Because == w.because && f.Status == w.status && f.Note == w.note {
			return f
		}
	}
	require.Failf(t, "no such finding", "want %+v in %+v", w, found)
	return audit.Finding{}
}

// plays of the record with one fault planted, and what has to be found.
var faults = []struct {
	name string
	play func(b *bench) audit.View
	want []want
	// only says that nothing else may be found.
	only bool
}{
	{"a step passed by", func(b *bench) audit.View {
		b.steps("clean")
		b.write(builder, job, procedure.LookTaken{Step: "play", Check: "rock", OK: true, Judgement: procedure.Judgement{Counts: true, Verdict: procedure.Conforming}})
		return b.view()
	}, []want{{rule: audit.RuleStepMissing, step: "clamp", item: "bolt.A", status: audit.Open},
		{rule: audit.RuleStepMissing, step: "lock", item: "prep", status: audit.Open}}, false},
	{"finished with a step missing", func(b *bench) audit.View {
		b.steps("clean", "clamp", "lock")
		b.now = b.now.Add(time.Hour)
		b.write(builder, job, procedure.JobFinished{})
		return b.view()
	}, []want{{rule: audit.RuleStepMissing, step: "play", item: "check.rock", status: audit.Open},
		{rule: audit.RuleStepMissing, step: "play", item: "check.picture", status: audit.Open}}, true},
	{"released with the later step missing", func(b *bench) audit.View {
		b.all(procedure.BeforeFinish)
		b.finish()
		b.now = b.now.Add(48 * time.Hour)
		b.write(foreman, "", procedure.BuildReleased{Rank: procedure.Foreman})
		return b.view()
	}, []want{{rule: audit.RuleStepMissing, step: "again", item: "check.tight", status: audit.Open}}, true},
	{"a closing round left out", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 8 {
			b.reading("clamp", false)
		}
		b.checks("clamp")
		b.write(builder, job, procedure.LookTaken{Step: "play", Check: "rock", OK: true})
		return b.view()
	}, []want{{rule: audit.RulePassesIncomplete, step: "clamp", status: audit.Open}}, false},
	{"a bolt that never stops turning", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 20 {
			b.reading("clamp", true)
		}
		return b.view()
	}, []want{{rule: audit.RulePassesIncomplete, step: "clamp", status: audit.Open}}, true},
	{"a result spoiled and not taken again", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		b.steps("clean")
		return b.view()
	}, []want{{rule: audit.RuleVoid, step: "clamp", status: audit.Open}}, true},
	{"spoiled, then finished all the same", func(b *bench) audit.View {
		b.steps("clean", "clamp", "lock", "play")
		b.steps("clean")
		b.now = b.now.Add(time.Hour)
		b.write(builder, job, procedure.JobFinished{})
		return b.view()
	}, []want{{rule: audit.RuleVoid, step: "clamp", status: audit.Open}, {rule: audit.RuleVoid, step: "play", status: audit.Open}}, true},
	{"spoiled, then taken again", func(b *bench) audit.View {
		b.steps("clean", "clamp", "clean", "clamp")
		return b.view()
	}, nil, true},
	{"spoiled after the job was finished", func(b *bench) audit.View {
		b.all(procedure.BeforeFinish)
		b.finish()
		b.write(builder, job, procedure.ReadingTaken{Step: "clamp", Bolt: "B", Figure: figure(b.t, "6.5"), Value: 6_500_000_000, Tool: "tw-small", Turned: true,
			Judgement: procedure.Judgement{Rule: procedure.RuleJobClosed, Pass: 1, Verdict: procedure.Conforming,
				Voids: []procedure.ResultRef{{Job: job, Step: "play", Item: "check.rock"}}}})
		return b.view()
	}, []want{{rule: audit.RuleVoidSinceFinished, step: "play", item: "check.rock", status: audit.Open},
		{rule: audit.RuleOutOfOrder, step: "clamp", item: "bolt.B", because: procedure.RuleJobClosed, status: audit.Open}}, true},
	{"a bolt pulled too far", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 5 {
			b.reading("clamp", false)
		}
		b.pullOf("clamp", "C", "9", "tw-small", false)
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "clamp", item: "bolt.C", status: audit.Open}}, true},
	{"a bolt pulled too far, joint taken apart and done again", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 5 {
			b.reading("clamp", false)
		}
		b.pullOf("clamp", "C", "9", "tw-small", false)
		b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
		b.steps("clamp")
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "clamp", item: "bolt.C", status: audit.Reworked}}, true},
	{"a bolt pulled too far out of turn, then the joint done again", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		b.pullOf("clamp", "D", "9", "tw-small", false)
		b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
		b.steps("clamp")
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "clamp", item: "bolt.D", status: audit.Reworked},
		{rule: audit.RuleOutOfOrder, step: "clamp", item: "bolt.D", because: procedure.RuleBoltOrder, status: audit.Reworked}}, true},
	{"a bolt pulled too far in the first pass", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		b.pullOf("clamp", "A", "9", "tw-small", false)
		b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
		b.steps("clamp")
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "clamp", item: "bolt.A", status: audit.Reworked},
		{rule: audit.RuleOutOfOrder, step: "clamp", item: "bolt.A", because: procedure.RulePassSetting, status: audit.Reworked}}, true},
	{"a bolt left short, then tightened", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		b.prep("lock")
		b.pullOf("lock", "ring", "30", "tw-big", true)
		b.pull("lock")
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "lock", item: "bolt.ring", status: audit.Reworked}}, true},
	{"a no to a question", func(b *bench) audit.View {
		b.do(builder, procedure.TakeLook{Job: job, Step: "clean", Check: "wiped", OK: false})
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "clean", item: "check.wiped", status: audit.Open}}, true},
	{"a measure outside", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		b.pull("clamp")
		b.do(builder, procedure.TakeMeasure{Job: job, Step: "clamp", Check: "gap", Value: "2.5", Unit: "mm"})
		return b.view()
	}, []want{{rule: audit.RuleNonconforming, step: "clamp", item: "check.gap", status: audit.Open}}, true},
	{"a high reading taken back as a slip", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		e := b.pullOf("clamp", "A", "9", "tw-small", false)
		b.do(builder, procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseMisTap, Reason: "hmac"})
		b.pull("clamp")
		return b.view()
	}, []want{{rule: audit.RuleOverWithdrawn, step: "clamp", item: "bolt.A", status: audit.Open}}, true},
	{"a high reading that belongs to another bike", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		e := b.pullOf("clamp", "A", "9", "tw-small", false)
		b.do(builder, procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseWrongBike, Reason: "hmac", MovedTo: "bike-2"})
		return b.view()
	}, nil, true},
	{"too near the limit", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 5 {
			b.reading("clamp", false)
		}
		b.pullOf("clamp", "C", "6.9", "tw-small", false)
		return b.view()
	}, []want{{rule: audit.RuleUndecided, step: "clamp", item: "bolt.C", status: audit.Open}}, true},
	{"too near the limit on a joint that is not safety-critical", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		b.prep("lock")
		e := b.pullOf("lock", "ring", "44.5", "tw-big", true)
		require.Equal(b.t, procedure.Undecided, judged(e).Verdict)
		return b.view()
	}, nil, true},
	{"too near the limit, taken by the foreman", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 5 {
			b.reading("clamp", false)
		}
		e := b.pullOf("clamp", "C", "6.9", "tw-small", false)
		b.do(foreman, procedure.AcceptResult{Job: job, Entry: e.ID, Reason: "hmac"})
		return b.view()
	}, nil, true},
	{"wrong prep", func(b *bench) audit.View {
		b.steps("clean")
		b.do(builder, procedure.DoPrep{Job: job, Step: "clamp", Thread: procedure.Grease, Face: procedure.Grease})
		return b.view()
	}, []want{{rule: audit.RulePrep, step: "clamp", item: "prep", status: audit.Open}}, true},
	{"wrong prep, cleaned and done again", func(b *bench) audit.View {
		b.steps("clean")
		b.do(builder, procedure.DoPrep{Job: job, Step: "clamp", Thread: procedure.Grease, Face: procedure.Grease})
		b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
		b.steps("clamp")
		return b.view()
	}, []want{{rule: audit.RulePrep, step: "clamp", item: "prep", status: audit.Reworked}}, true},
	{"a step begun too early", func(b *bench) audit.View {
		b.do(builder, procedure.DoPrep{Job: job, Step: "clamp", Thread: procedure.Grease, Face: procedure.Dry})
		return b.view()
	}, []want{{rule: audit.RuleOutOfOrder, step: "clamp", item: "prep", because: procedure.RuleEarlierStep, status: audit.Open},
		{rule: audit.RuleStepMissing, step: "clean", item: "check.wiped", status: audit.Open}}, true},
	{"tightened without prep", func(b *bench) audit.View {
		b.steps("clean")
		b.pullOf("clamp", "A", "3.2", "tw-small", true)
		return b.view()
	}, []want{{rule: audit.RuleOutOfOrder, step: "clamp", item: "bolt.A", because: procedure.RulePrepMissing, status: audit.Open}}, true},
	{"a hold passed without a signature", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.do(builder, procedure.DoPrep{Job: job, Step: "lock", Thread: procedure.ThreadlockerMedium})
		return b.view()
	}, []want{{rule: audit.RuleHoldUnsigned, step: "clamp", status: audit.Open},
		{rule: audit.RuleOutOfOrder, step: "lock", item: "prep", because: procedure.RuleHoldUnsigned, status: audit.Open}}, true},
	{"signed by own hand", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.now = b.now.Add(5 * time.Minute)
		b.write(builder, job, procedure.HoldSigned{Step: "clamp", Saw: "hmac", Rank: procedure.SeniorBuilder})
		v := b.view()
		v.Ranks = nil
		return v
	}, []want{{rule: audit.RuleOwnWork, step: "clamp", status: audit.Open}}, true},
	{"signed by own hand, then by another", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.write(builder, job, procedure.HoldSigned{Step: "clamp", Saw: "hmac", Rank: procedure.SeniorBuilder})
		b.now = b.now.Add(5 * time.Minute)
		b.write(second, job, procedure.HoldSigned{Step: "clamp", Saw: "hmac", Rank: procedure.SeniorBuilder})
		v := b.view()
		v.Ranks = nil
		return v
	}, []want{{rule: audit.RuleOwnWork, step: "clamp", status: audit.Reworked}}, true},
	{"signed by own hand, spoiled later", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.now = b.now.Add(5 * time.Minute)
		b.write(builder, job, procedure.HoldSigned{Step: "clamp", Saw: "hmac", Rank: procedure.SeniorBuilder})
		b.steps("clean")
		v := b.view()
		v.Ranks = nil
		return v
	}, []want{{rule: audit.RuleOwnWork, step: "clamp", status: audit.Open}, {rule: audit.RuleVoid, step: "clamp", status: audit.Open}}, true},
	{"signed with too low a rank", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.now = b.now.Add(5 * time.Minute)
		b.write(second, job, procedure.HoldSigned{Step: "clamp", Saw: "hmac", Rank: procedure.Builder})
		return b.view()
	}, []want{{rule: audit.RuleRank, step: "clamp", status: audit.Open}}, true},
	{"signed with a rank that the person did not have yet", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		v := b.view()
		v.Ranks = []audit.RankSince{{Person: second.Person, Rank: procedure.Builder, Since: monday.AddDate(0, -2, 0)},
			{Person: second.Person, Rank: procedure.SeniorBuilder, Since: monday.AddDate(0, 0, 7)}}
		return v
	}, []want{{rule: audit.RuleRank, step: "clamp", status: audit.Open}}, true},
	{"a foreman's hold signed by a senior builder", func(b *bench) audit.View {
		b.steps("clean", "clamp", "lock")
		b.work("play")
		b.bay = b.bays[1]
		b.write(second, job, procedure.HoldSigned{Step: "play", Saw: "hmac", Rank: procedure.SeniorBuilder})
		return b.view()
	}, []want{{rule: audit.RuleRank, step: "play", status: audit.Open}}, true},
	{"signed after the next step began", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.do(builder, procedure.DoPrep{Job: job, Step: "lock", Thread: procedure.ThreadlockerMedium})
		b.sign("clamp")
		b.steps("lock")
		return b.view()
	}, []want{{rule: audit.RuleSignedLate, step: "clamp", status: audit.Open},
		{rule: audit.RuleOutOfOrder, step: "lock", item: "prep", because: procedure.RuleHoldUnsigned, status: audit.Reworked}}, true},
	{"signed in seconds on the builder's tablet", func(b *bench) audit.View {
		b.steps("clean")
		b.work("clamp")
		b.pace = 35 * time.Second
		b.do(second, procedure.SignHold{Job: job, Step: "clamp", Saw: "hmac"})
		return b.view()
	}, []want{{rule: audit.RuleSignedInSeconds, step: "clamp", status: audit.Open}}, true},
	{"an undecided result accepted by its own maker", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 5 {
			b.reading("clamp", false)
		}
		e := b.pullOf("clamp", "C", "6.9", "tw-small", false)
		b.write(builder, job, procedure.ResultAccepted{Entry: e.ID, Reason: "hmac", Rank: procedure.Foreman})
		v := b.view()
		v.Ranks = nil
		return v
	}, []want{{rule: audit.RuleOwnWork, step: "clamp", item: "bolt.C", status: audit.Open}}, true},
	{"a step begun before the wait was over", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		b.work("lock")
		b.now = b.now.Add(30 * time.Minute)
		b.do(builder, procedure.TakeLook{Job: job, Step: "play", Check: "rock", OK: true})
		return b.view()
	}, []want{{rule: audit.RuleWait, step: "lock", because: procedure.RuleWait, status: audit.Open}}, true},
	{"a step begun before the wait was over, then after it", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		b.work("lock")
		b.now = b.now.Add(30 * time.Minute)
		b.do(builder, procedure.TakeLook{Job: job, Step: "play", Check: "rock", OK: true})
		b.steps("play")
		return b.view()
	}, []want{{rule: audit.RuleWait, step: "lock", because: procedure.RuleWait, status: audit.Reworked}}, true},
	{"a wait that the cold made longer", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		nine := 9
		b.do(builder, procedure.DoPrep{Job: job, Step: "lock", Thread: procedure.ThreadlockerMedium, Metal: "steel", Celsius: &nine})
		b.pull("lock")
		b.now = b.now.Add(4 * time.Hour)
		b.write(builder, job, procedure.LookTaken{Step: "play", Check: "rock", OK: true, Judgement: procedure.Judgement{Counts: true, Verdict: procedure.Conforming}})
		return b.view()
	}, []want{{rule: audit.RuleWait, step: "lock", status: audit.Open}}, true},
	{"a warm joint on plain steel needs no longer", func(b *bench) audit.View {
		b.steps("clean", "clamp")
		twenty := 20
		b.do(builder, procedure.DoPrep{Job: job, Step: "lock", Thread: procedure.ThreadlockerMedium, Metal: "steel", Celsius: &twenty})
		b.pull("lock")
		b.now = b.now.Add(4 * time.Hour)
		b.write(builder, job, procedure.LookTaken{Step: "play", Check: "rock", OK: true, Judgement: procedure.Judgement{Counts: true, Verdict: procedure.Conforming}})
		return b.view()
	}, nil, true},
	{"a wait of exactly the right length", func(b *bench) audit.View {
		return waited(b, 6*time.Hour) // nothing is known of the metal and the cold
	}, nil, true},
	{"a wait that was a second short", func(b *bench) audit.View {
		return waited(b, 6*time.Hour-time.Second)
	}, []want{{rule: audit.RuleWait, step: "lock", status: audit.Open}}, true},
	{"released before the compound had cured", func(b *bench) audit.View {
		b.all(procedure.BeforeFinish)
		b.finish()
		b.all(procedure.BeforeRelease)
		b.write(foreman, "", procedure.BuildReleased{Rank: procedure.Foreman})
		return b.view()
	}, []want{{rule: audit.RuleWait, step: "lock", status: audit.Open}}, true},
	{"faster than it can be done", func(b *bench) audit.View {
		b.pace = 11 * time.Second
		b.all(procedure.BeforeFinish)
		j := b.job()
		b.now = monday.Add(7 * time.Minute)
		e := j.Opened
		require.Less(b.t, b.now.Sub(e.Moment.Best()), 8*time.Minute)
		b.write(builder, job, procedure.JobFinished{})
		return b.view()
	}, []want{{rule: audit.RuleTooFast, status: audit.Open}}, false},
	{"just slow enough", func(b *bench) audit.View {
		b.all(procedure.BeforeFinish)
		b.now = b.job().Opened.Moment.Best().Add(8*time.Minute - b.pace)
		b.write(builder, job, procedure.JobFinished{})
		for _, f := range b.audit(b.view()) {
			require.NotEqual(b.t, audit.RuleTooFast, f.Rule)
		}
		return b.view()
	}, nil, false},
	{"ticked in a batch", func(b *bench) audit.View {
		b.pace = 2 * time.Second
		look := func(step, check string) {
			b.write(builder, job, procedure.LookTaken{Step: step, Check: check, OK: true, Judgement: procedure.Judgement{Counts: true, Verdict: procedure.Conforming}})
		}
		look("clean", "wiped")
		look("play", "rock")
		look("again", "tight")
		return b.view()
	}, []want{{rule: audit.RuleBatch, step: "play", status: audit.Open}}, false},
	{"the same digits on an indicating tool", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 4 {
			b.reading("clamp", false)
		}
		for _, bolt := range []string{"A", "C", "B", "D"} {
			b.pullOf("clamp", bolt, "6.50", "tw-show", false)
		}
		return b.view()
	}, []want{{rule: audit.RuleSameDigits, step: "clamp", status: audit.Open}}, true},
	{"the same setting on a setting tool is no sign", func(b *bench) audit.View {
		b.steps("clean")
		b.prep("clamp")
		for range 4 {
			b.reading("clamp", false)
		}
		for _, bolt := range []string{"A", "C", "B", "D"} {
			b.pullOf("clamp", bolt, "6.5", "tw-small", false)
		}
		return b.view()
	}, nil, true},
	{"a tablet ahead of its time", func(b *bench) audit.View {
		b.bay.fast = 7 * time.Minute
		b.steps("clean")
		return b.view()
	}, []want{{rule: audit.RuleClockAhead, status: audit.Open}}, true},
}

// waited records the step after a wait a given time after the prep.
func waited(b *bench, after time.Duration) audit.View {
	b.t.Helper()
	b.steps("clean", "clamp")
	b.prep("lock")
	prep := b.now
	b.pull("lock")
	b.now = prep.Add(after - b.pace)
	b.write(builder, job, procedure.LookTaken{Step: "play", Check: "rock", OK: true, Judgement: procedure.Judgement{Counts: true, Verdict: procedure.Conforming}})
	return b.view()
}

func TestPlantedFaultGivesItsFinding(t *testing.T) {
	for _, tt := range faults {
		t.Run(tt.name, func(t *testing.T) {
			b := richBench(t)
			b.open()
			found := b.audit(tt.play(b))
			for _, w := range tt.want {
				w.in(t, found)
			}
			for _, f := range found {
				require.False(t, tt.only && !expected(tt.want, f.Rule), "not planted: %+v", f)
			}
		})
	}
}

func expected(wants []want, rule string) bool {
	for _, w := range wants {
		if w.rule == rule {
			return true
		}
	}
	return false
}

// What a rank is held against stands in the text.
func TestRankInWords(t *testing.T) {
	b := richBench(t)
	b.open()
	b.steps("clean", "clamp")
	v := b.view()
	v.Ranks = []audit.RankSince{{Person: second.Person, Rank: procedure.Builder, Since: monday.AddDate(0, -2, 0)}}
	found := b.audit(v)
	require.Len(t, found, 1)
	require.Contains(t, found[0].Text, "was signed as a senior builder, but the person was a builder on that day; it takes a senior builder")
}

// What is known of a tool today is held against the readings of then.
func TestToolFoundUnsuitableLater(t *testing.T) {
	hours := func(h int) time.Time { return monday.Add(time.Duration(h) * time.Hour) }
	tests := []struct {
		name    string
		rule    string
		entries int
		change  func(*procedure.Tool)
	}{
		{"overdue", audit.RuleToolOverdue, 3, func(w *procedure.Tool) { w.Calibrations[0].Due = hours(-24) }},
		{"set aside before", audit.RuleToolQuarantined, 3, func(w *procedure.Tool) { w.Quarantines = []procedure.Quarantine{{From: hours(-1)}} }},
		{"sent away before", audit.RuleToolAway, 3, func(w *procedure.Tool) { w.Away = []procedure.Absence{{From: hours(-1), To: hours(24)}} }},
		{"never calibrated", audit.RuleToolUncalibrated, 3, func(w *procedure.Tool) { w.Calibrations = nil }},
		{"calibrated one way only", audit.RuleToolHand, 3, func(w *procedure.Tool) { w.Calibrations[0].Hands = []joint.Hand{joint.LeftHand} }},
		{"a larger tool than thought", audit.RuleToolRange, 2, func(w *procedure.Tool) { w.Max = "60" }},
		{"not on the list", audit.RuleToolUnknown, 3, func(w *procedure.Tool) { w.ID = "tw-other" }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := richBench(t)
			b.open()
			b.steps("clean", "clamp")
			v := b.view()
			v.Tools = rack()
			require.Empty(t, b.audit(v))
			tt.change(&v.Tools[0])
			found := b.audit(v)
			require.Len(t, found, 4, "one for each bolt: %+v", found)
			for _, f := range found {
				require.Equal(t, tt.rule, f.Rule)
				require.Equal(t, "tw-small", f.Tool)
				require.Equal(t, audit.Open, f.Status)
				require.Empty(t, f.Because)
				require.Len(t, f.Entries, tt.entries, "two passes and the closing round; the range of use counts at full value only")
			}
		})
	}
}

// What the bench refused to count for the tool's sake is found with its rule,
// and settled by a reading with a sound tool.
func TestToolRefusedAtTheBench(t *testing.T) {
	b := richBench(t)
	b.open()
	b.rack[0].Quarantines = []procedure.Quarantine{{From: monday}}
	b.steps("clean")
	b.prep("clamp")
	b.pullOf("clamp", "A", "3.2", "tw-small", false)
	want{rule: audit.RuleToolQuarantined, step: "clamp", item: "bolt.A", because: audit.RuleToolQuarantined, status: audit.Open}.in(t, b.audit(b.view()))

	b.rack[0].Quarantines = nil
	b.pull("clamp")
	v := b.view()
	f := want{rule: audit.RuleToolQuarantined, step: "clamp", item: "bolt.A", because: audit.RuleToolQuarantined, status: audit.Reworked}.in(t, b.audit(v))
	require.Len(t, f.Entries, 1)
}

// A corrected tool is the tool: what was said of the other one is gone.
func TestCorrectedToolIsTheTool(t *testing.T) {
	b := richBench(t)
	b.open()
	b.steps("clean")
	b.prep("clamp")
	e := b.pullOf("clamp", "A", "3.2", "tw-lost", false)
	want{rule: audit.RuleToolUnknown, step: "clamp", item: "bolt.A", because: audit.RuleToolUnknown, status: audit.Open}.in(t, b.audit(b.view()))
	b.do(builder, procedure.CorrectTool{Entry: e.ID, Tool: "tw-small", Reason: "hmac"})
	for _, f := range b.audit(b.view()) {
		require.NotEqual(t, "tw-lost", f.Tool)
	}
}

func TestErrors(t *testing.T) {
	b := richBench(t)
	b.open()
	_, err := audit.Job(b.build, "job-9", b.view())
	require.ErrorIs(t, err, procedure.ErrNotFound)

	v := audit.View{Tools: []procedure.Tool{{ID: "tw"}, {ID: "tw"}}, Ranks: []audit.RankSince{{}}}
	_, err = audit.Job(b.build, job, v)
	var paths []string
	for _, fe := range procedure.FieldErrors(err) {
		paths = append(paths, fe.Path)
	}
	require.Contains(t, paths, "tools[0].kind")
	require.Contains(t, paths, "tools[1].id")
	require.Contains(t, paths, "ranks[0].person")
	_, err = audit.Build(b.build, v)
	require.NotEmpty(t, procedure.FieldErrors(err))
}
