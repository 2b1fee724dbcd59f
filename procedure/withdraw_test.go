package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

func (b *bench) withdraw(person string, e procedure.Entry) {
	b.t.Helper()
	b.do(person, procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseMisTap, Reason: "r"})
}

func lookAtArm() procedure.Command {
	return procedure.TakeLook{Job: "crank", Step: "fit-arm", Check: "opposite", OK: true}
}

func TestWhatTwoHandsSpoiledStaysVoidWhenOneIsTakenBack(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
	slip := b.do("ana", lookAtArm())
	again := b.do("ana", lookAtArm())
	require.Empty(t, judgement(t, again).Voids, "everything was void already")
	require.Equal(t, judgement(t, slip).Voids, judgement(t, again).StillVoid)
	b.withdraw("ana", slip)
	b.refused("ana", procedure.FinishJob{Job: "crank"}, procedure.RuleUnfinished)
	require.Nil(t, step(t, b, "crank", "pinch").Signed)
	b.withdraw("ana", again)
	b.do("ana", procedure.FinishJob{Job: "crank"})
}

func TestABoltThatTurnedOpensAGroupThatComesToLightAsClosed(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	slip := b.do("ana", turned(pull("A", "13")))
	b.do("ana", turned(pull("A", "13")))
	b.withdraw("ana", slip)
	require.False(t, step(t, b, "crank", "pinch").Done(), "bolt A turned in its last closing reading")
	b.do("ana", pull("B", "13"))
	require.False(t, step(t, b, "crank", "pinch").Done(), "bolt A turned in this round")
	b.do("ana", pull("A", "13"))
	b.do("ana", pull("B", "13"))
	require.True(t, step(t, b, "crank", "pinch").Done())
}

func TestASignatureFallsWhenTheSignersOwnWorkComesToLight(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	for _, r := range []procedure.TakeReading{pull("A", "6.5"), pull("B", "6.5"), pull("A", "13"), pull("B", "13"), pull("A", "13")} {
		b.do("ana", r)
	}
	b.do("ben", pull("B", "13"))
	over := b.do("ana", pull("B", "13"))
	b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
	b.withdraw("ana", over)
	b.refused("ana", procedure.FinishJob{Job: "crank"}, procedure.RuleHoldUnsigned)
	b.refused("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, procedure.RuleOwnWork)
}

func TestAWithdrawalTouchesWhatTheEntryHadSpoiled(t *testing.T) {
	b := newBench(t)
	b.toPinch()
	b.pinch()
	slip := b.do("ana", lookAtArm())
	c := b.call("ben")
	c.BasedOn = b.build.Seq
	b.withdraw("ana", slip)
	_, err := b.build.Decide(procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}, c)
	var conflict *procedure.ConflictError
	require.ErrorAs(t, err, &conflict, "the step stands again, and the person had not seen it")
}

func TestWithdrawingAnyPartOfAStepOpensIt(t *testing.T) {
	tests := []struct {
		name string
		pick func(e procedure.Entry) bool
	}{
		{"the prep", func(e procedure.Entry) bool { _, ok := e.Payload.(procedure.PrepDone); return ok }},
		{"the last closing reading", func(e procedure.Entry) bool {
			r, ok := e.Payload.(procedure.ReadingTaken)
			return ok && r.Bolt == "B" && r.Judgement.Round == 1
		}},
		{"the signature", func(e procedure.Entry) bool { _, ok := e.Payload.(procedure.HoldSigned); return ok }},
		{"a look in an earlier step", func(e procedure.Entry) bool {
			l, ok := e.Payload.(procedure.LookTaken)
			return ok && l.Check == "rock"
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.toPinch()
			b.pinch()
			b.do("ben", procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"})
			for _, e := range b.build.Entries() {
				if tt.pick(e) {
					b.withdraw("fay", e)
				}
			}
			_, err := b.try("ana", procedure.FinishJob{Job: "crank"})
			require.Error(t, err)
		})
	}
}
