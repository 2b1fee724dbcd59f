package procedure

import (
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// readTexts holds what texts were read as, so that the same marking and the
// same thread are read once. They are found by the text itself: a text that was
// changed since is read anew. Texts that cannot be read are not held.
type readTexts struct {
	windows map[string]torque.Window
	threads map[string]joint.Thread
}

func newReadTexts() readTexts {
	return readTexts{windows: map[string]torque.Window{}, threads: map[string]joint.Thread{}}
}

// window reads a marking and keeps it.
func (r readTexts) window(marking string) (torque.Window, error) {
	w, err := PrintedFigure{Marking: marking}.window()
	if err == nil {
		r.windows[marking] = w
	}
	return w, err
}

// thread reads a thread and keeps it.
func (r readTexts) thread(text string) (joint.Thread, error) {
	t, err := joint.ParseThread(text)
	if err == nil {
		r.threads[text] = t
	}
	return t, err
}

// readAll reads what the rows and steps of a procedure state themselves. What
// cannot be read is reported where a plan needs it.
func (r *Resolved) readAll() {
	r.read = newReadTexts()
	for i := range r.Joints {
		_, _ = r.read.window(r.Joints[i].Window)
		_, _ = r.read.thread(r.Joints[i].Thread)
	}
	for i := range r.Steps {
		for _, c := range r.Steps[i].Threads {
			_, _ = r.read.thread(c.Thread)
		}
	}
}

// readWindow reads a marking, unless the procedure or this plan has done so.
func (p *planner) readWindow(marking string) (torque.Window, error) {
	if w, ok := p.res.read.windows[marking]; ok {
		return w, nil
	}
	if w, ok := p.read.windows[marking]; ok {
		return w, nil
	}
	return p.read.window(marking)
}

// readThread is readWindow for threads.
func (p *planner) readThread(text string) (joint.Thread, error) {
	if t, ok := p.res.read.threads[text]; ok {
		return t, nil
	}
	if t, ok := p.read.threads[text]; ok {
		return t, nil
	}
	return p.read.thread(text)
}
