package server

import (
	"reflect"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// sameCommand reports whether a command says what a recorded entry says. Who
// said it and when does not count: a tablet may send again what it recorded
// before another person took over.
func sameCommand(r store.Reader, t *told, was procedure.Entry) (bool, error) {
	if was.Kind == "" || !reflect.DeepEqual(commandOf(was, t.command), withoutNote(t.command)) {
		return false, nil
	}
	return sameText(r, noteOf(was.Payload), t.text)
}

// commandOf makes the command that led to an entry, without its text. Where
// the domain filled a field in that was empty, it is empty again if it is in
// the command to compare with.
func commandOf(e procedure.Entry, with procedure.Command) procedure.Command {
	switch p := e.Payload.(type) {
	case procedure.ReadingTaken:
		return procedure.TakeReading{Job: e.Job, Step: p.Step, Bolt: p.Bolt, Figure: p.Figure, Tool: p.Tool,
			Turned: p.Turned, AngleDeg: p.AngleDeg, From: p.From, Happened: e.Happened}
	case procedure.MeasureTaken:
		c := procedure.TakeMeasure{Job: e.Job, Step: p.Step, Check: p.Check, Value: p.Value, Unit: p.Unit, Instrument: p.Instrument}
		if w, ok := with.(procedure.TakeMeasure); ok && w.Instrument == "" {
			c.Instrument = ""
		}
		return c
	case procedure.LookTaken:
		return procedure.TakeLook{Job: e.Job, Step: p.Step, Check: p.Check, OK: p.OK}
	case procedure.PhotoTaken:
		return procedure.TakePhoto{Job: e.Job, Step: p.Step, Check: p.Check, Picture: p.Picture}
	case procedure.PrepDone:
		return procedure.DoPrep{Job: e.Job, Step: p.Step, Thread: p.Thread, Face: p.Face, Batch: p.Batch, Metal: p.Metal, Celsius: p.Celsius}
	case procedure.ReworkBegun:
		c := procedure.BeginRework{Job: e.Job, Step: p.Step, From: p.From}
		if w, ok := with.(procedure.BeginRework); ok && w.From == "" && p.From == p.Step {
			c.From = ""
		}
		return c
	default:
		return intentionOf(e)
	}
}

func intentionOf(e procedure.Entry) procedure.Command {
	switch p := e.Payload.(type) {
	case procedure.HoldSigned:
		return procedure.SignHold{Job: e.Job, Step: p.Step}
	case procedure.ResultAccepted:
		return procedure.AcceptResult{Entry: p.Entry}
	case procedure.FigureAccepted:
		return procedure.AcceptFigure{Joint: p.Joint, Window: p.Window}
	case procedure.EntryWithdrawn:
		return procedure.WithdrawEntry{Entry: p.Entry, Cause: p.Cause, MovedTo: p.MovedTo}
	case procedure.ToolCorrected:
		return procedure.CorrectTool{Entry: p.Entry, Tool: p.Tool}
	case procedure.JobFinished:
		return procedure.FinishJob{Job: e.Job}
	case procedure.JobAbandoned:
		return procedure.AbandonJob{Job: e.Job}
	case procedure.BuildReleased:
		return procedure.ReleaseBuild{}
	default: // opened, swapped or unknown: no command of a batch
		return nil
	}
}

// withoutNote leaves the text out of a command.
func withoutNote(c procedure.Command) procedure.Command {
	switch c := c.(type) {
	case procedure.TakeLook:
		c.Note = ""
		return c
	case procedure.BeginRework:
		c.Reason = ""
		return c
	case procedure.SignHold:
		c.Saw = ""
		return c
	case procedure.AcceptResult:
		c.Reason = ""
		return c
	case procedure.AcceptFigure:
		c.Reason = ""
		return c
	case procedure.WithdrawEntry:
		c.Reason = ""
		return c
	case procedure.CorrectTool:
		c.Reason = ""
		return c
	case procedure.AbandonJob:
		c.Reason = ""
		return c
	default:
		return c
	}
}

// entryIDPath is where the entry id of a command stands, given the path of its
// action.
func entryIDPath(action string) string {
	if at := strings.LastIndexByte(action, '.'); at >= 0 {
		return action[:at] + ".entry_id"
	}
	return "entry_id"
}
