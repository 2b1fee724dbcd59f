package audit_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// skilledBench is a job whose plan takes the skill clamps.
func skilledBench(t testing.TB) *bench {
	t.Helper()
	def, err := procedure.ReadDefinition("rich.yaml", []byte(rich))
	require.NoError(t, err)
	def.Skills = []procedure.Skill{{ID: "threads", Title: "threads"}, {ID: "clamps", Title: "clamps", Needs: []string{"threads"}}}
	return newBench(t, def, rows(), sheet(), rack(), procedure.Policy{})
}

// since is a register from a time on; a zero lapse never comes.
func since(person string, from time.Time, held ...procedure.HeldSkill) audit.SkillsSince {
	return audit.SkillsSince{Person: person, Since: from, Skills: &procedure.SkillRegister{Held: held}}
}

var (
	longAgo = monday.AddDate(-1, 0, 0)
	sound   = procedure.HeldSkill{Skill: "clamps", Proven: monday.AddDate(0, -2, 0)}
	old     = procedure.HeldSkill{Skill: "clamps", Proven: longAgo, Lapses: monday.AddDate(0, 0, -2)}
	late    = procedure.HeldSkill{Skill: "clamps", Proven: monday.AddDate(0, 0, 10)}
)

func TestSkillOfWhoWorked(t *testing.T) {
	supervised := func(b *bench) {
		_, digest, err := b.plan.Encode()
		require.NoError(t, err)
		b.write(builder, job, procedure.JobOpened{Procedure: b.plan.Procedure, PlanDigest: digest, Engine: b.plan.Engine,
			Supervisor: foreman.Person, SupervisorRank: procedure.Foreman})
	}
	for _, tt := range []struct {
		name   string
		open   func(b *bench)
		skills []audit.SkillsSince
		rule   string
	}{
		{"no register", (*bench).open, nil, ""},
		{"held", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo, sound)}, ""},
		{"missing", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo)}, audit.RuleSkillMissing},
		{"shown later only", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo, late)}, audit.RuleSkillMissing},
		{"lapsed", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo, old)}, audit.RuleSkillLapsed},
		{"lapsed, and shown again later", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo, old), since(builder.Person, monday.AddDate(0, 0, 10), late)}, audit.RuleSkillLapsed},
		{"the proof was entered late", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo), since(builder.Person, monday.AddDate(0, 0, 10), sound)}, ""},
		{"the proof was replaced later", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo, sound), since(builder.Person, monday.AddDate(0, 0, 10), late)}, ""},
		{"the register came later", (*bench).open, []audit.SkillsSince{since(builder.Person, monday.AddDate(0, 0, 10))}, ""},
		{"the register was given up before", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo), {Person: builder.Person, Since: longAgo.AddDate(0, 1, 0)}}, ""},
		{"the register was given up later", (*bench).open, []audit.SkillsSince{since(builder.Person, longAgo), {Person: builder.Person, Since: monday.AddDate(0, 0, 10)}}, audit.RuleSkillMissing},
		{"supervised", supervised, []audit.SkillsSince{since(builder.Person, longAgo, old), since(foreman.Person, longAgo, sound)}, ""},
		{"supervised by one without a register", supervised, []audit.SkillsSince{since(builder.Person, longAgo, old)}, ""},
		{"supervised by one who could not", supervised, []audit.SkillsSince{since(builder.Person, longAgo, old), since(foreman.Person, longAgo)}, audit.RuleSkillLapsed},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := skilledBench(t)
			tt.open(b)
			b.steps("clean", "clamp")
			v := b.view()
			v.Skills = tt.skills
			found := b.audit(v)
			if tt.rule == "" {
				require.Empty(t, found)
				return
			}
			require.Len(t, found, 1)
			require.Equal(t, tt.rule, found[0].Rule)
			require.Equal(t, audit.Open, found[0].Status)
			require.Equal(t, procedure.FunctionCritical, found[0].Risk)
			require.Contains(t, found[0].Text, "the skill clamps")
			for _, e := range found[0].Entries {
				require.Equal(t, builder.Person, e.Actor, "the signature is not the builder's work")
			}
		})
	}
}

// A supervisor who was no senior builder on that day stays with nothing.
func TestSupervisorOfTooLowARank(t *testing.T) {
	b := skilledBench(t)
	_, digest, err := b.plan.Encode()
	require.NoError(t, err)
	b.write(builder, job, procedure.JobOpened{Procedure: b.plan.Procedure, PlanDigest: digest, Engine: b.plan.Engine,
		Supervisor: "person-c", SupervisorRank: procedure.Builder})
	b.steps("clean")
	v := b.view()
	v.Skills = []audit.SkillsSince{since(builder.Person, longAgo)}
	require.Len(t, of(b.audit(v), audit.RuleSkillMissing), 1)
}

// Work that a person with the skill took again is settled, what was not is
// open.
func TestUnskilledWorkTakenAgain(t *testing.T) {
	b := skilledBench(t)
	b.open()
	b.do(second, procedure.TakeLook{Job: job, Step: "clean", Check: "wiped", OK: true})
	v := b.view()
	v.Skills = []audit.SkillsSince{since(second.Person, longAgo)}
	want{rule: audit.RuleSkillMissing, status: audit.Open}.in(t, b.audit(v))
	b.do(builder, procedure.TakeLook{Job: job, Step: "clean", Check: "wiped", OK: true})
	want{rule: audit.RuleSkillMissing, status: audit.Reworked}.in(t, b.audit(v))
}

func TestSkillOfWhoSigned(t *testing.T) {
	for _, tt := range []struct {
		name   string
		skills []audit.SkillsSince
		says   string
	}{
		{"no register", nil, ""},
		{"held", []audit.SkillsSince{since(second.Person, longAgo, sound)}, ""},
		{"missing", []audit.SkillsSince{since(second.Person, longAgo)}, "who had not shown the skill clamps"},
		{"lapsed", []audit.SkillsSince{since(second.Person, longAgo, old)}, "whose proof of the skill clamps had lapsed"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := skilledBench(t)
			b.open()
			b.steps("clean", "clamp")
			v := b.view()
			v.Skills = tt.skills
			found := b.audit(v)
			if tt.says == "" {
				require.Empty(t, found)
				return
			}
			require.Len(t, found, 1)
			want{rule: audit.RuleSignedUnskilled, step: "clamp", status: audit.Open}.in(t, found)
			require.Contains(t, found[0].Text, tt.says)
		})
	}
}

func TestARegisterIsSomebodys(t *testing.T) {
	b := skilledBench(t)
	b.open()
	_, err := audit.Job(b.build, job, audit.View{Skills: []audit.SkillsSince{{}}})
	require.Equal(t, "skills[0].person", procedure.FieldErrors(err)[0].Path)
}
