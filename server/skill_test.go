package server_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/types/known/fieldmaskpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
)

// proof is a line of a register. The shop of these tests stands at one day;
// days are counted from there.
func (s *shop) proof(skill string, from, to int) *pb.HeldSkill {
	return &pb.HeldSkill{Skill: skill, ProvenTime: timestamppb.New(s.clock.Now().AddDate(0, 0, from)),
		LapseTime: timestamppb.New(s.clock.Now().AddDate(0, 0, to))}
}

func kept(lines ...*pb.HeldSkill) *pb.SkillRegister { return &pb.SkillRegister{Held: lines} }

// setSkills gives a person a register; nil gives it up.
func (s *shop) setSkills(by *hand, person string, r *pb.SkillRegister) *pb.Person {
	s.Helper()
	list, err := s.people.ListPeople(by, &pb.ListPeopleRequest{})
	require.NoError(s, err)
	for _, p := range list.GetPeople() {
		if p.GetName() == person {
			resp, err := s.people.UpdatePerson(by, &pb.UpdatePersonRequest{RequestId: id(), UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"skills"}},
				Person: &pb.Person{Name: person, Etag: p.GetEtag(), Skills: r}})
			require.NoError(s, err)
			return resp.GetPerson()
		}
	}
	s.FailNow()
	return nil
}

func TestSkillsOfAPerson(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	line := s.proof("cassette", -30, 300)
	line.Evidence = "bench test, three passes"
	r, err := s.people.EnrolPerson(w.fay, &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ann", Rank: pb.Rank_RANK_BUILDER, Skills: kept(line)})
	require.NoError(t, err)
	equal(t, kept(line), r.GetPerson().GetSkills())

	// A change without skills leaves them, and an empty mask too where none are sent.
	p := r.GetPerson()
	u, err := s.people.UpdatePerson(w.fay, &pb.UpdatePersonRequest{RequestId: id(), Person: &pb.Person{Name: p.GetName(), Etag: p.GetEtag(), DisplayName: "Anne", Rank: pb.Rank_RANK_BUILDER}})
	require.NoError(t, err)
	require.Equal(t, "Anne", u.GetPerson().GetDisplayName())
	equal(t, kept(line), u.GetPerson().GetSkills())

	// None yet is not the same as no register.
	require.NotNil(t, s.setSkills(w.fay, p.GetName(), kept()).GetSkills())
	require.Nil(t, s.setSkills(w.fay, p.GetName(), nil).GetSkills())
}

func TestSkillsAreRefused(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	for _, tt := range []struct {
		name string
		held []*pb.HeldSkill
		want []string
	}{
		{"nobody knows the skill", []*pb.HeldSkill{s.proof("juggling", -1, 1)}, []string{"skills.held[0].skill", "UNKNOWN_SKILL"}},
		{"no day", []*pb.HeldSkill{{Skill: "cassette"}}, []string{"skills.held[0].proven_time", "MISSING"}},
		{"dates reversed", []*pb.HeldSkill{s.proof("cassette", -1, 1), s.proof("pedals", 1, -1)}, []string{"skills.held[1].lapse_time", "REVERSED_DATES"}},
		{"twice on a day", []*pb.HeldSkill{s.proof("cassette", -1, 1), s.proof("cassette", -1, 2)}, []string{"skills.held[1]", "DUPLICATE"}},
		{"a story", []*pb.HeldSkill{{Skill: "cassette", ProvenTime: timestamppb.Now(), Evidence: "one\ntwo"}}, []string{"skills.held[0].evidence", "UNPRINTABLE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.people.EnrolPerson(w.fay, &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ann", Rank: pb.Rank_RANK_HELPER, Skills: kept(tt.held...)})
			badFields(t, err, tt.want...)
		})
	}
}

func TestASupervisorOpensTheJobToWhoHasNotTheSkill(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	s.setSkills(w.fay, w.ben.name, kept(s.proof("cassette", -300, -2)))
	s.setSkills(w.fay, w.sam.name, kept())
	open := func(supervisor string) (*pb.OpenJobResponse, error) {
		return s.bench.OpenJob(w.ben, &pb.OpenJobRequest{RequestId: id(), Build: "builds/b-1", JobId: "cassette",
			Procedure: "procedures/cassette-splined-body", Supervisor: supervisor})
	}
	refused := func(supervisor, rule string) {
		t.Helper()
		_, err := open(supervisor)
		fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke(rule, "cassette-splined-body"))
	}
	refused("", "skill-lapsed")
	refused(w.ben.name, "own-work")
	refused(w.sam.name, "skill-missing")
	_, err := open("people/p-nobody")
	fails(t, err, codes.NotFound, "NOT_FOUND", resource("person", "people/p-nobody"), wrong("supervisor", "NOT_FOUND"))
	_, err = open("fay")
	badFields(t, err, "supervisor", "MALFORMED_NAME")

	s.setSkills(w.fay, w.sam.name, kept(s.proof("cassette", -10, 300)))
	r, err := open(w.sam.name)
	require.NoError(t, err)
	require.Equal(t, w.sam.name, r.GetJob().GetSupervisor())
	require.Equal(t, w.sam.name, s.job(w.ben, "b-1", "cassette").GetSupervisor())
	require.Equal(t, []string{"cassette"}, r.GetJob().GetPlan().GetTakes())
	list, err := s.bench.ListEntries(w.ben, &pb.ListEntriesRequest{Build: "builds/b-1"})
	require.NoError(t, err)
	opened := list.GetEntries()[0].GetJobOpened()
	require.Equal(t, w.sam.name, opened.GetSupervisor())
	require.Equal(t, pb.Rank_RANK_SENIOR_BUILDER, opened.GetSupervisorRank())
}

func TestARetiredPersonSupervisesNothing(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	gone := s.enrol(w.fay, "Gus Gone", pb.Rank_RANK_FOREMAN)
	_, err := s.people.UpdatePerson(w.fay, &pb.UpdatePersonRequest{RequestId: id(), UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"retired"}},
		Person: &pb.Person{Name: gone.GetName(), Etag: gone.GetEtag(), Retired: true}})
	require.NoError(t, err)
	_, err = s.bench.OpenJob(w.ben, &pb.OpenJobRequest{RequestId: id(), Build: "builds/b-1", JobId: "cassette",
		Procedure: "procedures/cassette-splined-body", Supervisor: gone.GetName()})
	fails(t, err, codes.NotFound, "NOT_FOUND", resource("person", gone.GetName()), wrong("supervisor", "NOT_FOUND"))
}

// The auditor goes by the register as it stood, and as it stands.
func TestAuditOfSkills(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.sam, "b-1", "b-02.yaml")
	s.open(w.sam, "b-1", "cassette", "cassette-splined-body")
	s.setSkills(w.fay, w.ben.name, kept())
	s.clock.advance(time.Hour)
	job := s.job(w.ben, "b-1", "cassette")
	var look *pb.Command
	for _, c := range job.GetPlan().GetSteps()[0].GetChecks() {
		if c.GetKind() == pb.CheckKind_CHECK_KIND_LOOK {
			look = &pb.Command{EntryId: "look-1", TabletSeq: 1, TabletTime: timestamppb.New(s.clock.Now()),
				Action: &pb.Command_TakeLook{TakeLook: &pb.TakeLook{Job: job.GetName(), Step: job.GetPlan().GetSteps()[0].GetStepId(), Check: c.GetCheckId(), Ok: true}}}
		}
	}
	require.NotNil(t, look)
	_, err := s.bench.AppendEntries(w.ben, &pb.AppendEntriesRequest{RequestId: id(), Build: "builds/b-1", Clock: &pb.Clock{Tablet: w.ben.tablet, Boot: "boot"}, Commands: []*pb.Command{look}})
	require.NoError(t, err)
	rules := func() (out []string) {
		r, err := s.audits.AuditBuild(w.ben, &pb.AuditBuildRequest{Build: "builds/b-1"})
		require.NoError(t, err)
		for _, f := range r.GetFindings() {
			out = append(out, f.GetRule())
		}
		return out
	}
	require.Contains(t, rules(), "skill-missing")
	s.setSkills(w.fay, w.ben.name, kept(s.proof("cassette", -10, 300)))
	require.NotContains(t, rules(), "skill-missing", "the proof was entered late")
}

// Strangers see no skills, and what shows a skill is for the person and the
// foremen.
func TestWhoSeesSkills(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	line := s.proof("cassette", -10, 300)
	line.Evidence = "bench test"
	s.setSkills(w.fay, w.ben.name, kept(line))
	seen := func(ctx context.Context) *pb.SkillRegister {
		list, err := s.people.ListPeople(ctx, &pb.ListPeopleRequest{})
		require.NoError(t, err)
		for _, p := range list.GetPeople() {
			if p.GetName() == w.ben.name {
				return p.GetSkills()
			}
		}
		return nil
	}
	require.Nil(t, seen(t.Context()))
	equal(t, kept(line), seen(w.fay))
	equal(t, kept(line), seen(w.ben))
	equal(t, kept(s.proof("cassette", -10, 300)), seen(w.sam))
}

// A person who was enrolled before there were registers has none.
func TestAPersonOfBefore(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	for kind, body := range map[string]string{"person": `{"value":{"rank":"builder"}}`, "person-name": `{"value":{"display_name":"Old Hand"}}`} {
		require.NoError(t, s.store.Update(t.Context(), "workshop", func(tx store.Tx) error {
			_, err := tx.PutDocument(store.Document{Kind: kind, ID: "p-old", ServerUS: 1, Body: []byte(body)}, 0)
			return err
		}))
	}
	old := s.at(&pb.Person{Name: "people/p-old"}, "tablet-old")
	s.bike(old, "b-1", "b-02.yaml")
	require.Empty(t, s.open(old, "b-1", "cassette", "cassette-splined-body").GetSupervisor())
	require.NotNil(t, s.setSkills(w.fay, "people/p-old", kept(s.proof("cassette", -10, 300))).GetSkills())
}

// A sink that keeps registers.
type skillSink struct {
	server.Sink
	seen []*procedure.SkillRegister
}

func (s *skillSink) Tool(procedure.Tool) error                    { return nil }
func (s *skillSink) Rank(string, procedure.Rank, time.Time) error { return nil }
func (s *skillSink) Skills(_ string, r *procedure.SkillRegister, _ time.Time) error {
	s.seen = append(s.seen, r)
	return nil
}

// An export holds every register with its time, and one that was given up, but
// no text.
func TestExportOfSkills(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	line := s.proof("cassette", -10, 300)
	line.Evidence = "bench test"
	for _, r := range []*pb.SkillRegister{kept(), kept(line), nil} {
		s.clock.advance(time.Hour)
		s.setSkills(w.fay, w.ben.name, r)
	}
	var sink skillSink
	require.NoError(t, server.Export(t.Context(), s.store, "workshop", &sink))
	require.Len(t, sink.seen, 3)
	require.Empty(t, sink.seen[0].Held)
	require.Equal(t, []procedure.HeldSkill{{Skill: "cassette", Proven: line.ProvenTime.AsTime(), Lapses: line.LapseTime.AsTime()}}, sink.seen[1].Held)
	require.Nil(t, sink.seen[2])
}
