package server

import (
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// othersTouched reports whether somebody at another tablet recorded what
// touches the job, between what the person had seen and what the domain says
// has changed. job is empty for a command about the whole build.
func (rec *recorder) othersTouched(job string, c *procedure.ConflictError) bool {
	for _, e := range rec.fold.build.Entries() {
		if e.Seq <= c.Since || e.Seq > c.Changed || e.Moment.Tablet == rec.tablet {
			continue
		}
		if job == "" || e.Job == job || voidsIn(e.Payload, job) {
			return true
		}
	}
	return false
}

func voidsIn(p procedure.Payload, job string) bool {
	for _, ref := range procedure.VoidsOf(p) {
		if ref.Job == job {
			return true
		}
	}
	return false
}

// jobOf is the job that a command rests on, "" for the whole build.
func jobOf(b *procedure.Build, c procedure.Command) string {
	switch c := c.(type) {
	case procedure.SignHold:
		return c.Job
	case procedure.FinishJob:
		return c.Job
	case procedure.AbandonJob:
		return c.Job
	case procedure.SwapPart:
		return c.Job
	case procedure.AcceptResult:
		e, _ := b.Entry(c.Entry)
		return e.Job
	case procedure.OpenJob, procedure.TakeReading, procedure.TakeMeasure, procedure.TakeLook, procedure.TakePhoto,
		procedure.DoPrep, procedure.BeginRework, procedure.AcceptFigure, procedure.WithdrawEntry,
		procedure.CorrectTool, procedure.ReleaseBuild:
	}
	return ""
}

// allRefused gives the error of a batch of which nothing was recorded.
func allRefused(tx store.Tx, b *batch, a answer) error {
	e := &refusedError{}
	changed := int64(0)
	for _, o := range a.Outcomes {
		if o.Refused == nil {
			return nil
		}
		e.refusals = append(e.refusals, *o.Refused)
		changed = max(changed, o.Refused.ChangedSeq)
	}
	if changed == 0 {
		return e
	}
	return e.showing(tx, b.build, b.based, changed, a.Head)
}

// showing adds the entries of the others to a refusal.
func (e *refusedError) showing(r store.Reader, build string, based, changed, head int64) error {
	since, err := r.Entries(build, based, mostSince)
	if err != nil {
		return err
	}
	shown, err := entriesToProto(since)
	if err != nil {
		return err
	}
	e.conflict = conflictOf(based, changed, head, shown)
	return e
}
