package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
)

// skilled is the crank procedure with skills: cranks build on threads.
func skilled() procedure.Definition {
	d := crank()
	d.Skills = []procedure.Skill{
		{ID: "threads", Title: "Threads"},
		{ID: "cranks", Title: "Cranks", Needs: []string{"threads"}},
	}
	return d
}

func day(text string) time.Time {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return t
}

func register(held ...procedure.HeldSkill) *procedure.SkillRegister {
	return &procedure.SkillRegister{Held: held}
}

var (
	holds    = register(procedure.HeldSkill{Skill: "cranks", Proven: day("2025-01-20")})
	lapsed   = register(procedure.HeldSkill{Skill: "cranks", Proven: day("2024-03-01"), Lapses: day("2025-03-01")})
	onlyBase = register(procedure.HeldSkill{Skill: "threads", Proven: day("2025-02-17")})
)

func TestAProcedureTakesTheSkillsThatItEndsIn(t *testing.T) {
	d := skilled()
	require.Equal(t, []string{"cranks"}, d.Takes())
	require.Equal(t, []string{"cranks"}, plan(t, d).Takes)
	bare := crank()
	require.Empty(t, bare.Takes())
}

func TestWhoMayOpenAJob(t *testing.T) {
	for _, tt := range []struct {
		name       string
		skills     map[string]*procedure.SkillRegister
		supervisor string
		rule       string
	}{
		{"no register at all", nil, "", ""},
		{"the skill is held", map[string]*procedure.SkillRegister{"ana": holds}, "", ""},
		{"a register without a line", map[string]*procedure.SkillRegister{"ana": register()}, "", procedure.RuleSkillMissing},
		{"only what it builds on", map[string]*procedure.SkillRegister{"ana": onlyBase}, "", procedure.RuleSkillMissing},
		{"lapsed", map[string]*procedure.SkillRegister{"ana": lapsed}, "", procedure.RuleSkillLapsed},
		{"lapsed, supervised", map[string]*procedure.SkillRegister{"ana": lapsed, "ben": holds}, "ben", ""},
		{"supervised by one without a register", map[string]*procedure.SkillRegister{"ana": lapsed}, "ben", ""},
		{"supervised by the same person", map[string]*procedure.SkillRegister{"ana": lapsed}, "ana", procedure.RuleOwnWork},
		{"supervisor of too low a rank", map[string]*procedure.SkillRegister{"ana": lapsed, "cor": holds}, "cor", procedure.RuleRank},
		{"supervisor without the skill", map[string]*procedure.SkillRegister{"ana": lapsed, "ben": onlyBase}, "ben", procedure.RuleSkillMissing},
		{"supervisor whose skill lapsed", map[string]*procedure.SkillRegister{"ana": holds, "ben": lapsed}, "ben", procedure.RuleSkillLapsed},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.skills = tt.skills
			open := procedure.OpenJob{Job: "crank", Plan: plan(t, skilled())}
			if tt.supervisor != "" {
				s := b.actor(tt.supervisor)
				open.Supervisor = &s
			}
			if tt.rule != "" {
				b.refused("ana", open, tt.rule)
				return
			}
			e := b.do("ana", open)
			require.Equal(t, tt.supervisor, e.Payload.(procedure.JobOpened).Supervisor)
			j, _ := b.build.Job("crank")
			require.Equal(t, tt.supervisor, j.Supervisor)
		})
	}
}

func TestASupervisorHasAName(t *testing.T) {
	b := newBench(t)
	_, err := b.try("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, skilled()), Supervisor: &procedure.Actor{Rank: procedure.Foreman}})
	fes := procedure.FieldErrors(err)
	require.Len(t, fes, 1)
	require.Equal(t, "supervisor", fes[0].Path)
}

// A plan that was stored before skills were kept asks for none: history is
// judged by the plan that the job has.
func TestAnOldPlanAsksForNoSkill(t *testing.T) {
	b := newBench(t)
	b.skills = map[string]*procedure.SkillRegister{"ana": register()}
	p := plan(t, skilled())
	p.Takes = nil
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: p})
}

// The day of the proof counts, the day of the lapse does not any more.
func TestASkillIsHeldFromTheProofToTheLapse(t *testing.T) {
	for _, tt := range []struct {
		at, rule string
	}{
		{"2024-02-29T23:59:59Z", procedure.RuleSkillMissing},
		{"2024-03-01T00:00:00Z", ""},
		{"2025-02-28T23:59:59Z", ""},
		{"2025-03-01T00:00:00Z", procedure.RuleSkillLapsed},
	} {
		t.Run(tt.at, func(t *testing.T) {
			at, err := time.Parse(time.RFC3339, tt.at)
			require.NoError(t, err)
			missing, old := lapsed.Lacks([]string{"cranks"}, at)
			require.Equal(t, tt.rule == procedure.RuleSkillMissing, len(missing) == 1)
			require.Equal(t, tt.rule == procedure.RuleSkillLapsed, len(old) == 1)
		})
	}
	again := register(append([]procedure.HeldSkill{{Skill: "cranks", Proven: day("2025-03-18")}}, lapsed.Held...)...)
	missing, old := again.Lacks([]string{"cranks"}, day("2025-03-19"))
	require.Empty(t, missing)
	require.Empty(t, old)
	_, old = again.Lacks([]string{"cranks"}, day("2025-03-06"))
	require.Equal(t, []string{"cranks"}, old)
}

func TestASignatureNeedsTheSkill(t *testing.T) {
	sign := procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}
	for _, tt := range []struct {
		name   string
		signer *procedure.SkillRegister
		rule   string
	}{
		{"no register", nil, ""},
		{"held", holds, ""},
		{"missing", onlyBase, procedure.RuleSkillMissing},
		{"lapsed", lapsed, procedure.RuleSkillLapsed},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, skilled())})
			b.upToPinch()
			b.pinch()
			b.skills = map[string]*procedure.SkillRegister{"ben": tt.signer}
			if tt.rule != "" {
				b.refused("ben", sign, tt.rule)
				return
			}
			b.do("ben", sign)
		})
	}
}

// A supervisor is another person for a hold, unless the work was the
// supervisor's own.
func TestASupervisorMaySignWhatOthersDid(t *testing.T) {
	sign := procedure.SignHold{Job: "crank", Step: "pinch", Saw: "n"}
	b := newBench(t)
	b.skills = map[string]*procedure.SkillRegister{"ana": lapsed, "ben": holds}
	ben := b.actor("ben")
	b.do("ana", procedure.OpenJob{Job: "crank", Plan: plan(t, skilled()), Supervisor: &ben})
	b.upToPinch()
	b.pinch()
	b.do("ben", pull("A", "13"))
	b.refused("ben", sign, procedure.RuleOwnWork)
	b.do("ana", pull("A", "13"))
	b.do("ben", sign)
}

// A fact counts whoever gave it: the wrench and the window say what the joint
// got.
func TestAFactCountsWithoutTheSkill(t *testing.T) {
	b := newBench(t)
	b.do("ben", procedure.OpenJob{Job: "crank", Plan: plan(t, skilled())})
	b.skills = map[string]*procedure.SkillRegister{"ana": register()}
	b.upToPinch()
	b.pinch()
	s := step(t, b, "crank", "pinch")
	require.True(t, s.Done())
}

func TestCheckOfARegister(t *testing.T) {
	known := []string{"cranks", "threads"}
	require.NoError(t, (*procedure.SkillRegister)(nil).Check(known))
	require.NoError(t, register().Check(known))
	require.NoError(t, lapsed.Check(known))
	err := register(
		procedure.HeldSkill{Skill: "crank", Proven: day("2025-01-20")},
		procedure.HeldSkill{Skill: "cranks"},
		procedure.HeldSkill{Skill: "threads", Proven: day("2025-01-20"), Lapses: day("2025-01-20")},
		procedure.HeldSkill{Skill: "threads", Proven: day("2025-01-20")},
	).Check(known)
	var got []string
	for _, fe := range procedure.FieldErrors(err) {
		got = append(got, fe.Path+" "+fe.Rule)
	}
	require.Equal(t, []string{"held[0].skill unknown-skill", "held[1].proven missing", "held[2].lapses reversed-dates", "held[3] duplicate"}, got)
	require.ErrorContains(t, err, "did you mean cranks?")
	many := make([]procedure.HeldSkill, 201)
	require.Equal(t, "held", procedure.FieldErrors(register(many...).Check(known))[0].Path)
}
