package server

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// A told is one command as the domain takes it, with what belongs to it.
type told struct {
	// path is where its action stands in the request.
	path    string
	entry   string
	command procedure.Command
	moment  procedure.Moment // without the server's time
	// target is the job or entry that it names, as kind and name.
	kind, target string
	text         string
	note         *store.Attachment // of the text, if there is one
}

// commandFields are the fields of commands that the API calls otherwise than
// the domain does.
var commandFields = map[string]string{"from": "back_to"}

// A commandReader reads the commands of one request.
type commandReader struct {
	*fields
	build    string
	clock    procedure.Moment
	pictures map[string]procedure.NoteRef // by attachment id
	random   io.Reader
	fault    error // no randomness
	entries  map[string]bool
	metals   []string // the words of the vocabulary for a metal
}

// read reads commands[i].
func (c *commandReader) read(i int, w *pb.Command) *told {
	at := fmt.Sprintf("commands[%d]", i)
	if w == nil {
		c.add(at, "missing", "there is no command here")
		return nil
	}
	t := &told{entry: w.GetEntryId(), moment: c.moment(at, w)}
	c.id(at+".entry_id", t.entry)
	if c.entries[t.entry] {
		c.add(at+".entry_id", "duplicate-id", "an earlier command of this call has the same id")
	}
	c.entries[t.entry] = true
	c.action(at, t, w)
	return t
}

func (c *commandReader) moment(at string, w *pb.Command) procedure.Moment {
	m := c.clock
	m.TabletSeq = w.GetTabletSeq()
	if m.TabletSeq < 0 {
		c.add(at+".tablet_seq", "out-of-range", "a count cannot be negative")
	}
	m.MonotonicUS = c.duration(at+".monotonic", w.GetMonotonic(), false).Microseconds()
	if t := c.time(at+".tablet_time", w.GetTabletTime(), m.OffsetUS != nil); !t.IsZero() {
		m.TabletUS = t.UnixMicro()
	}
	return m
}

// action reads what is told.
func (c *commandReader) action(at string, t *told, w *pb.Command) {
	switch a := w.GetAction().(type) {
	case *pb.Command_TakeReading:
		t.path = at + ".take_reading"
		c.takeReading(t, a.TakeReading)
	case *pb.Command_TakeMeasure:
		t.path = at + ".take_measure"
		c.takeMeasure(t, a.TakeMeasure)
	case *pb.Command_TakeLook:
		t.path = at + ".take_look"
		x := a.TakeLook
		t.command = procedure.TakeLook{Job: c.job(t, x.GetJob()), Step: x.GetStep(), Check: x.GetCheck(),
			OK: x.GetOk(), Note: c.note(t, "note", x.GetNote(), false)}
	case *pb.Command_TakePhoto:
		t.path = at + ".take_photo"
		x := a.TakePhoto
		t.command = procedure.TakePhoto{Job: c.job(t, x.GetJob()), Step: x.GetStep(), Check: x.GetCheck(),
			Picture: c.picture(t, x.GetPicture())}
	case *pb.Command_DoPrep:
		t.path = at + ".do_prep"
		c.doPrep(t, a.DoPrep)
	case *pb.Command_BeginRework:
		t.path = at + ".begin_rework"
		x := a.BeginRework
		t.command = procedure.BeginRework{Job: c.job(t, x.GetJob()), Step: x.GetStep(), From: x.GetBackTo(),
			Reason: c.note(t, "reason", x.GetReason(), true)}
	default:
		c.intention(at, t, w)
	}
}

// intention reads what can be refused.
func (c *commandReader) intention(at string, t *told, w *pb.Command) {
	switch a := w.GetAction().(type) {
	case *pb.Command_SignHold:
		t.path = at + ".sign_hold"
		x := a.SignHold
		t.command = procedure.SignHold{Job: c.job(t, x.GetJob()), Step: x.GetStep(), Saw: c.note(t, "saw", x.GetSaw(), true)}
	case *pb.Command_AcceptResult:
		t.path = at + ".accept_result"
		x := a.AcceptResult
		t.command = procedure.AcceptResult{Entry: c.entry(t, x.GetEntry()), Reason: c.note(t, "reason", x.GetReason(), true)}
	case *pb.Command_AcceptFigure:
		t.path = at + ".accept_figure"
		x := a.AcceptFigure
		t.command = procedure.AcceptFigure{Joint: x.GetJoint(), Window: c.window(t.path+".window", x.GetWindow()),
			Reason: c.note(t, "reason", x.GetReason(), true)}
	case *pb.Command_WithdrawEntry:
		t.path = at + ".withdraw_entry"
		x := a.WithdrawEntry
		t.command = procedure.WithdrawEntry{Entry: c.entry(t, x.GetEntry()), Cause: c.cause(t.path+".cause", x.GetCause()),
			Reason: c.note(t, "reason", x.GetReason(), true)}
	case *pb.Command_CorrectTool:
		t.path = at + ".correct_tool"
		x := a.CorrectTool
		t.command = procedure.CorrectTool{Entry: c.entry(t, x.GetEntry()), Tool: c.tool(t, x.GetTool()),
			Reason: c.note(t, "reason", x.GetReason(), true)}
	case *pb.Command_FinishJob:
		t.path = at + ".finish_job"
		t.command = procedure.FinishJob{Job: c.job(t, a.FinishJob.GetJob())}
	case *pb.Command_AbandonJob:
		t.path = at + ".abandon_job"
		x := a.AbandonJob
		t.command = procedure.AbandonJob{Job: c.job(t, x.GetJob()), Reason: c.note(t, "reason", x.GetReason(), true)}
	case *pb.Command_ReleaseBuild:
		t.path = at + ".release_build"
		t.command = procedure.ReleaseBuild{}
	default:
		c.add(at+".action", "missing", "say what is told: exactly one action")
	}
}

func (c *commandReader) takeReading(t *told, x *pb.TakeReading) {
	t.command = procedure.TakeReading{Job: c.job(t, x.GetJob()), Step: x.GetStep(), Bolt: x.GetBolt(),
		Figure: c.figure(t.path+".figure", x.GetFigure()), Tool: c.tool(t, x.GetTool()),
		Turned: x.GetTurned(), AngleDeg: x.GetAngleDeg()}
	c.line(t.path+".angle_deg", x.GetAngleDeg(), false, 40)
}

func (c *commandReader) takeMeasure(t *told, x *pb.TakeMeasure) {
	c.line(t.path+".value", x.GetValue(), true, 40)
	c.line(t.path+".instrument", x.GetInstrument(), false, mostMarkSigns)
	t.command = procedure.TakeMeasure{Job: c.job(t, x.GetJob()), Step: x.GetStep(), Check: x.GetCheck(),
		Value: x.GetValue(), Unit: x.GetUnit(), Instrument: x.GetInstrument()}
}

// mostMarkSigns bounds a mark on a container, an instrument.
const mostMarkSigns = 100

func (c *commandReader) doPrep(t *told, x *pb.DoPrep) {
	c.line(t.path+".batch", x.GetBatch(), false, mostMarkSigns)
	if m := x.GetMetal(); m != "" && !slices.Contains(c.metals, m) {
		c.add(t.path+".metal", "unknown-word", "%q: write one of %s, or leave it out where it is not known", clip(m), strings.Join(c.metals, ", "))
	}
	p := procedure.DoPrep{Job: c.job(t, x.GetJob()), Step: x.GetStep(),
		Thread: c.prep(t.path+".thread", x.GetThread()), Face: c.prep(t.path+".face", x.GetFace()),
		Batch: x.GetBatch(), Metal: x.GetMetal()}
	if x.Celsius != nil {
		if v := int(x.GetCelsius()); v < -50 || v > 100 {
			c.add(t.path+".celsius", "out-of-range", "a joint is between -50 °C and 100 °C, not at %d °C", v)
		} else {
			p.Celsius = &v
		}
	}
	t.command = p
}

// job and entry read names of the build of the call.
func (c *commandReader) job(t *told, name string) string {
	t.kind, t.target = "job", name
	return c.own(t.path+".job", jobs, name)
}

func (c *commandReader) entry(t *told, name string) string {
	t.kind, t.target = "entry", name
	return c.own(t.path+".entry", entries, name)
}

func (c *commandReader) own(path, collection, name string) string {
	build, id, err := parseUnder(collection, name)
	c.take(path, err)
	if err == nil && build != c.build {
		c.add(path, "other-build", "this call is about build %s, not %s", c.build, build)
	}
	return id
}

func (c *commandReader) tool(t *told, name string) string {
	id, err := parseID(tools, name)
	c.take(t.path+".tool", err)
	return id
}

func (c *commandReader) picture(t *told, name string) procedure.NoteRef {
	id := c.own(t.path+".picture", attachments, name)
	ref, ok := c.pictures[id]
	if !ok && id != "" {
		c.add(t.path+".picture", "unknown-picture", "this build has no such picture: add it first")
	}
	return ref
}

// note makes the attachment of a text.
func (c *commandReader) note(t *told, field, text string, required bool) procedure.NoteRef {
	c.free(joinPath(t.path, field), text, required)
	t.text = text
	if text == "" {
		return ""
	}
	a, ref, err := newNote(c.random, t.entry, text)
	if err != nil {
		c.fault = err
	}
	t.note = a
	return ref
}

var causes = map[pb.WithdrawEntry_Cause]string{
	pb.WithdrawEntry_CAUSE_MIS_TAP:    procedure.CauseMisTap,
	pb.WithdrawEntry_CAUSE_WRONG_BIKE: procedure.CauseWrongBike,
	pb.WithdrawEntry_CAUSE_DOUBTFUL:   procedure.CauseDoubtful,
}

func (f *fields) cause(path string, w pb.WithdrawEntry_Cause) string {
	f.enum(path, int32(w), int32(len(causes)))
	return causes[w]
}

// clockFromProto reads the clocks of a batch. The tablet must be the session's.
func (f *fields) clockFromProto(path, tablet string, w *pb.Clock) procedure.Moment {
	if w == nil {
		f.add(path, "missing", "this field is required")
		return procedure.Moment{}
	}
	m := procedure.Moment{Tablet: w.GetTablet(), Boot: w.GetBoot()}
	if m.Tablet != tablet {
		f.add(path+".tablet", "other-tablet", "this session was started at tablet %s, not at %q", tablet, clip(m.Tablet))
	}
	f.line(path+".boot", m.Boot, false, 63)
	if w.GetOffset() != nil {
		us := f.duration(path+".offset", w.GetOffset(), true).Microseconds()
		m.OffsetUS = &us
	}
	return m
}

// here is the moment of a call that brings no clocks of its own.
func here(p Principal, at time.Time) procedure.Moment {
	return procedure.Moment{Tablet: p.Tablet, ServerUS: at.UnixMicro()}
}
