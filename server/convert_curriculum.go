package server

import (
	"github.com/tightwright/tightwright/procedure/teaching"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func curriculumToProto(c *teaching.Curriculum) *pb.Curriculum {
	return &pb.Curriculum{
		Seed: c.Seed, Held: c.Held, Modules: each(c.Modules, moduleToProto), Hours: c.Hours, ContextChanges: int32(c.Changes),
		Procedures: each(c.Procedures, func(p teaching.ProcedureRef) *pb.Curriculum_Taught {
			return &pb.Curriculum_Taught{Procedure: procedureName(p.ID), Title: p.Title, Revision: p.Revision.String()}
		}),
	}
}

func moduleToProto(m teaching.Module) *pb.TeachingModule {
	return &pb.TeachingModule{
		ModuleId: m.ID, Number: int32(m.Number), Title: m.Title, Context: m.Context, Skills: each(m.Skills, skillToProto),
		Procedures: each(m.Procedures, procedureName), Risk: riskToProto(m.Risk), Hours: m.Hours, Why: m.Why,
		Focus: each(m.Focus, func(x teaching.Focus) *pb.TeachingModule_Focus {
			return &pb.TeachingModule_Focus{Procedure: procedureName(x.Procedure), Step: x.Step, Title: x.Title,
				Findings: int32(x.Findings), Why: x.Why}
		}),
		LayOutTools: m.LayOut.Tools, LayOutConsumables: m.LayOut.Consumables, LayOutParts: m.LayOut.Parts,
		Test: testToProto(m.Test), Fault: faultToProto(m.Fault), Questions: each(m.Questions, questionToProto),
	}
}

func testToProto(t teaching.BenchTest) *pb.PracticalTest {
	return &pb.PracticalTest{
		Tasks: t.Tasks, Fails: t.Fails, Runs: int32(t.Runs),
		Criteria: each(t.Criteria, func(c teaching.Criterion) *pb.PracticalTest_Criterion {
			return &pb.PracticalTest_Criterion{Procedure: procedureName(c.Procedure), Step: c.Step, Text: c.Text, Source: sourceToProto(c.Source)}
		}),
		Limits: each(t.Limits, func(l teaching.TimeLimit) *pb.PracticalTest_Limit {
			return &pb.PracticalTest_Limit{Procedure: procedureName(l.Procedure), Minutes: int32(l.Minutes)}
		}),
	}
}

func faultToProto(x *teaching.PlantedFault) *pb.PlantedFault {
	if x == nil {
		return nil
	}
	return &pb.PlantedFault{Procedure: procedureName(x.Procedure), Step: x.Step, Plant: x.Plant, Good: x.Good, Remedy: x.Then, Why: x.Why}
}

func questionToProto(q teaching.Question) *pb.Question {
	return &pb.Question{
		QuestionId: q.ID, Kind: string(q.Kind), Text: q.Stem, Options: q.Options, Answer: q.Answer, Solution: q.Solution,
		Wrong: each(q.Wrong, func(w teaching.Wrong) *pb.Question_Wrong {
			return &pb.Question_Wrong{Text: w.Text, Mistake: w.Mistake}
		}),
		Given: each(q.Given, func(g teaching.Given) *pb.Question_Given {
			return &pb.Question_Given{Label: g.Name, Value: g.Value}
		}),
		Procedure: procedureName(q.Procedure), Step: q.Step, Joint: q.Joint, Source: sourceToProto(q.Source),
		Caution: q.Caution, Why: q.Why,
	}
}
