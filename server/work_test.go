package server_test

import (
	"context"
	"strconv"
	"strings"
	"sync/atomic"

	"github.com/stretchr/testify/require"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// A mechanic does what the guide of a job asks, well, and knows nothing else.
type mechanic struct {
	*shop
	by, second *hand
	build, job string
	sent       []sentBatch
}

// A sentBatch is what a mechanic sent, to be sent again.
type sentBatch struct {
	by    *hand
	batch *pb.AppendEntriesRequest
}

// tell sends one command, which must be recorded, and remembers it.
func (m *mechanic) tell(by *hand, c *pb.Command) *pb.Entry {
	m.Helper()
	req := batchOf(by, m.build, 0, c)
	m.sent = append(m.sent, sentBatch{by, req})
	r, err := m.bench.AppendEntries(by, req)
	require.NoError(m, err)
	e := r.GetOutcomes()[0].GetEntry()
	require.NotNil(m, e, "refused: %v", r.GetOutcomes()[0].GetRefusal())
	return e
}

var tabletCount atomic.Int64

// send appends commands as the hand's tablet, based on what it has seen.
func (s *shop) send(by *hand, build string, based int64, commands ...*pb.Command) (*pb.AppendEntriesResponse, error) {
	return s.bench.AppendEntries(by, batchOf(by, build, based, commands...))
}

func batchOf(by *hand, build string, based int64, commands ...*pb.Command) *pb.AppendEntriesRequest {
	for _, c := range commands {
		if c.EntryId == "" {
			c.EntryId = id()
		}
		c.TabletSeq = tabletCount.Add(1)
	}
	return &pb.AppendEntriesRequest{RequestId: id(), Build: "builds/" + build, BasedOnSeq: based,
		Clock: &pb.Clock{Tablet: by.tablet}, Commands: commands}
}

// record sends commands that must all be recorded.
func (s *shop) record(by *hand, build string, commands ...*pb.Command) []*pb.Entry {
	s.Helper()
	r, err := s.send(by, build, 0, commands...)
	require.NoError(s, err)
	var out []*pb.Entry
	for _, o := range r.GetOutcomes() {
		require.NotNil(s, o.GetEntry(), "refused: %v", o.GetRefusal())
		out = append(out, o.GetEntry())
	}
	return out
}

// until works until the current step is the one named; empty works until the
// job can be finished.
func (m *mechanic) until(step string) {
	m.Helper()
	for range 400 {
		j := m.shop.job(m.by, m.build, m.job)
		if j.GetCurrentStep() == step {
			return
		}
		m.next(j)
	}
	require.Fail(m, "the job does not come to an end")
}

// next does the next thing that the guide asks for.
func (m *mechanic) next(j *pb.Job) {
	m.Helper()
	state, planned := stepOf(j, j.GetCurrentStep())
	require.NotNil(m, state, "no current step: %v", j)
	switch state.GetStatus() {
	case pb.StepState_STATUS_TO_SIGN:
		m.tell(m.second, &pb.Command{Action: &pb.Command_SignHold{SignHold: &pb.SignHold{
			Job: j.GetName(), Step: state.GetStepId(), Saw: "looked, felt and tried"}}})
	case pb.StepState_STATUS_WAITING:
		m.clock.advance(state.GetWait().AsDuration())
	default:
		require.NotEmpty(m, state.GetMissing(), "step %s is %v and lacks nothing", state.GetStepId(), state.GetStatus())
		e := m.tell(m.by, m.command(j, state, planned))
		require.True(m, judgement(e).GetCounts(), "step %s: %v", state.GetStepId(), judgement(e))
	}
}

func stepOf(j *pb.Job, id string) (*pb.StepState, *pb.PlannedStep) {
	for i, s := range j.GetSteps() {
		if s.GetStepId() == id {
			return s, j.GetPlan().GetSteps()[i]
		}
	}
	return nil, nil
}

// command is a good answer to the first thing that is missing.
func (m *mechanic) command(j *pb.Job, state *pb.StepState, planned *pb.PlannedStep) *pb.Command {
	m.Helper()
	item := state.GetMissing()[0]
	name, step := j.GetName(), state.GetStepId()
	if item == "prep" {
		return &pb.Command{Action: &pb.Command_DoPrep{DoPrep: &pb.DoPrep{Job: name, Step: step,
			Thread: planned.GetThreadPrep().GetUse(), Face: planned.GetFacePrep().GetUse(), Batch: "b-1", Metal: "steel", Celsius: new(int32(20))}}}
	}
	if strings.HasPrefix(item, "bolt.") {
		pull := state.GetNextPull()
		require.NotEmpty(m, pull.GetSettings(), "no tool can do step %s", step)
		set := pull.GetSettings()[0]
		figure := set.GetSetting()
		if figure == nil {
			figure = &pb.Figure{Digits: strconv.FormatFloat(pull.GetAim().GetNewtonMeters(), 'f', 2, 64), Unit: "N.m"}
		}
		return reading(name, step, pull.GetBolt(), figure, set.GetTool())
	}
	for _, c := range planned.GetChecks() {
		if "check."+c.GetCheckId() == item {
			return m.check(name, step, c)
		}
	}
	require.Fail(m, "unknown item", item)
	return nil
}

func (m *mechanic) check(job, step string, c *pb.Check) *pb.Command {
	m.Helper()
	switch c.GetKind() {
	case pb.CheckKind_CHECK_KIND_LOOK:
		return look(job, step, c.GetCheckId(), true, "")
	case pb.CheckKind_CHECK_KIND_MEASURE:
		return &pb.Command{Action: &pb.Command_TakeMeasure{TakeMeasure: &pb.TakeMeasure{Job: job, Step: step,
			Check: c.GetCheckId(), Value: middle(c.GetMin(), c.GetMax()), Unit: c.GetUnit()}}}
	case pb.CheckKind_CHECK_KIND_PHOTO:
		return &pb.Command{Action: &pb.Command_TakePhoto{TakePhoto: &pb.TakePhoto{Job: job, Step: step,
			Check: c.GetCheckId(), Picture: m.picture(m.by, m.build)}}}
	default:
		require.Fail(m, "unknown kind of check", c.GetKind())
		return nil
	}
}

func reading(job, step, bolt string, f *pb.Figure, tool string) *pb.Command {
	return &pb.Command{Action: &pb.Command_TakeReading{TakeReading: &pb.TakeReading{Job: job, Step: step, Bolt: bolt, Figure: f, Tool: tool}}}
}

func look(job, step, check string, ok bool, note string) *pb.Command {
	return &pb.Command{Action: &pb.Command_TakeLook{TakeLook: &pb.TakeLook{Job: job, Step: step, Check: check, Ok: ok, Note: note}}}
}

func finish(job string) *pb.Command {
	return &pb.Command{Action: &pb.Command_FinishJob{FinishJob: &pb.FinishJob{Job: job}}}
}

// middle is a value well inside the limits of a measure.
func middle(low, high string) string {
	l, errLow := strconv.ParseFloat(low, 64)
	h, errHigh := strconv.ParseFloat(high, 64)
	switch {
	case errLow == nil && errHigh == nil:
		return strconv.FormatFloat((l+h)/2, 'f', 3, 64)
	case errHigh == nil:
		return strconv.FormatFloat(h/4, 'f', 3, 64)
	case errLow == nil:
		return strconv.FormatFloat(l*2, 'f', 3, 64)
	}
	return "1"
}

// aPNG is the smallest picture that a sniffer takes for one.
var aPNG = []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR invented")

func (s *shop) picture(by context.Context, build string) string {
	s.Helper()
	r, err := s.bench.AddPicture(by, &pb.AddPictureRequest{RequestId: id(), Build: "builds/" + build, MediaType: "image/png", Content: aPNG})
	require.NoError(s, err)
	return r.GetAttachment().GetName()
}

// judgement is what the rules said of a fact.
func judgement(e *pb.Entry) *pb.Judgement {
	switch p := e.GetPayload().(type) {
	case *pb.Entry_ReadingTaken:
		return p.ReadingTaken.GetJudgement()
	case *pb.Entry_MeasureTaken:
		return p.MeasureTaken.GetJudgement()
	case *pb.Entry_LookTaken:
		return p.LookTaken.GetJudgement()
	case *pb.Entry_PhotoTaken:
		return p.PhotoTaken.GetJudgement()
	case *pb.Entry_PrepDone:
		return p.PrepDone.GetJudgement()
	}
	return nil
}
