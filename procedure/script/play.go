package script

import (
	"fmt"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// Files finds the files that a script names.
type Files func(name string) ([]byte, error)

// pace is how long one entry takes at this bench, and secondLooks how long
// the second person looks before signing: an invented week goes at a human
// speed, or the auditor would find that nobody can work so fast.
const (
	pace        = time.Minute
	secondLooks = 2 * time.Minute
)

// A Player plays a script on a bench.
type Player struct {
	bench Bench
	files Files
	vocab *procedure.Vocabulary
	hand  Hand
	// names maps names given by the script to entries, last the latest.
	names map[string]string
	last  string
	count int
}

// NewPlayer returns a player. Sheets are read with the vocabulary.
func NewPlayer(bench Bench, vocab *procedure.Vocabulary, files Files) *Player {
	return &Player{bench: bench, files: files, vocab: vocab, names: map[string]string{},
		hand: Hand{Tablet: "bay-1", Now: time.Date(2025, 3, 3, 8, 30, 0, 0, time.UTC)}}
}

// Play carries out one line and returns what the bench answers, a line each.
// An error means that the script or the bench is broken, not that the bench
// refused something: a refusal is an answer.
func (p *Player) Play(l Line) ([]string, error) {
	if l.IsRemark() {
		return nil, nil
	}
	verb, args := l.Words[0], l.Words[1:]
	act, ok := verbs[verb]
	if !ok {
		return nil, fmt.Errorf("line %d: %q is not a command of a script", l.Number, verb)
	}
	if len(args) < act.least || len(args) > act.most {
		return nil, fmt.Errorf("line %d: %s takes %d to %d words, not %d", l.Number, verb, act.least, act.most, len(args))
	}
	out, err := act.do(p, args)
	if err != nil {
		return nil, fmt.Errorf("line %d: %s: %w", l.Number, verb, err)
	}
	return out, nil
}

type action struct {
	least, most int
	do          func(p *Player, a []string) ([]string, error)
}

var verbs = map[string]action{
	"enrol":      {2, 2, (*Player).enrol},
	"tool":       {1, 1, (*Player).tools},
	"at":         {2, 2, (*Player).at},
	"wait":       {1, 1, (*Player).wait},
	"as":         {1, 1, func(p *Player, a []string) ([]string, error) { p.hand.Person = a[0]; return nil, nil }},
	"tablet":     {1, 1, func(p *Player, a []string) ([]string, error) { p.hand.Tablet = a[0]; return nil, nil }},
	"on":         {1, 1, func(p *Player, a []string) ([]string, error) { p.hand.Build = a[0]; return nil, nil }},
	"build":      {2, 2, (*Player).build},
	"plan":       {1, 1, (*Player).plan},
	"open":       {2, 2, (*Player).open},
	"work":       {1, 7, (*Player).work},
	"answer":     {2, 2, (*Player).answer},
	"read":       {6, 7, (*Player).read},
	"measure":    {5, 5, (*Player).measure},
	"look":       {4, 4, (*Player).look},
	"photo":      {3, 3, (*Player).photo},
	"prep":       {2, 7, (*Player).prep},
	"rework":     {4, 4, (*Player).rework},
	"sign":       {3, 3, (*Player).sign},
	"accept":     {3, 3, (*Player).accept},
	"name":       {1, 1, func(p *Player, a []string) ([]string, error) { p.names[a[0]] = p.last; return nil, nil }},
	"withdraw":   {3, 3, (*Player).withdraw},
	"correct":    {3, 3, (*Player).correct},
	"swap":       {4, 4, (*Player).swap},
	"quarantine": {2, 2, (*Player).quarantine},
	"status":     {1, 1, (*Player).status},
	"audit":      {0, 0, (*Player).audit},
	"finish":     {1, 1, (*Player).finish},
	"abandon":    {2, 2, (*Player).abandon},
	"release":    {0, 0, (*Player).release},
}

func (p *Player) enrol(a []string) ([]string, error) {
	var rank procedure.Rank
	if err := rank.UnmarshalText([]byte(a[1])); err != nil {
		return nil, err
	}
	if p.hand.Person == "" {
		p.hand.Person = a[0]
	}
	return nil, p.bench.Enrol(a[0], rank)
}

func (p *Player) tools(a []string) ([]string, error) {
	data, err := p.files(a[0])
	if err != nil {
		return nil, err
	}
	tools, err := procedure.ReadTools(a[0], data)
	if err != nil {
		return nil, err
	}
	for _, t := range tools {
		if err := p.bench.AddTool(t); err != nil {
			return nil, err
		}
	}
	return nil, nil
}

func (p *Player) at(a []string) ([]string, error) {
	t, err := time.Parse("2006-01-02 15:04", a[0]+" "+a[1])
	if err != nil {
		return nil, err
	}
	p.hand.Now = t
	return nil, nil
}

func (p *Player) wait(a []string) ([]string, error) {
	d, err := time.ParseDuration(a[0])
	if err != nil {
		return nil, err
	}
	p.hand.Now = p.hand.Now.Add(d)
	return nil, nil
}

func (p *Player) build(a []string) ([]string, error) {
	data, err := p.files(a[1])
	if err != nil {
		return nil, err
	}
	sheet, err := procedure.ReadSheet(a[1], data, p.vocab)
	if err != nil {
		return nil, err
	}
	p.hand.Build = a[0]
	return nil, p.bench.AddBuild(a[0], sheet)
}

func (p *Player) plan(a []string) ([]string, error) {
	v, err := p.bench.Plan(p.hand, a[0])
	if err != nil {
		return nil, err
	}
	out := append(append([]string{}, v.Fit...), v.Steps...)
	for _, f := range v.Findings {
		word := "note"
		if f.Blocks {
			word = "stop"
		}
		out = append(out, fmt.Sprintf("%s (%s): %s", word, f.Rule, f.Text))
	}
	return out, nil
}

// do sends a request and words the outcome.
func (p *Player) do(r Request) ([]string, error) {
	p.count++
	r.Entry = fmt.Sprintf("%s-entry-%d", p.hand.Build, p.count)
	o, err := p.bench.Do(p.hand, r)
	if err != nil {
		return nil, err
	}
	p.hand.Now = p.hand.Now.Add(pace)
	if o.Refused != "" {
		return []string{fmt.Sprintf("refused (%s): %s", o.Refused, o.Text)}, nil
	}
	p.last = r.Entry
	out := []string{fmt.Sprintf("recorded %d", o.Seq)}
	if j := o.Judgement; j != nil {
		out[0] += ": " + j.Verdict.String()
		if !j.Counts {
			out[0] = fmt.Sprintf("recorded %d, does not count (%s): %s", o.Seq, j.Rule, j.Text)
		}
	}
	for _, v := range o.Voids {
		out = append(out, fmt.Sprintf("void: %s/%s %s", v.Job, v.Step, v.Item))
	}
	return out, nil
}

func (p *Player) open(a []string) ([]string, error) {
	return p.do(Request{Open: &Opening{Job: a[0], Procedure: a[1]}})
}

func (p *Player) answer(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.AcceptFigure{Joint: a[0]}, Note: a[1]})
}

func (p *Player) read(a []string) ([]string, error) {
	unit, err := torque.ParseUnit(a[4])
	if err != nil {
		return nil, err
	}
	f, err := torque.ParseFigure(a[3], unit)
	if err != nil {
		return nil, err
	}
	turned := len(a) == 7 && a[6] == "turned"
	return p.do(Request{Command: procedure.TakeReading{Job: a[0], Step: a[1], Bolt: a[2], Figure: f, Tool: a[5], Turned: turned}})
}

func (p *Player) measure(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.TakeMeasure{Job: a[0], Step: a[1], Check: a[2], Value: a[3], Unit: a[4]}})
}

func (p *Player) look(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.TakeLook{Job: a[0], Step: a[1], Check: a[2], OK: a[3] == "yes"}})
}

func (p *Player) photo(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.TakePhoto{Job: a[0], Step: a[1], Check: a[2]}})
}

func (p *Player) prep(a []string) ([]string, error) {
	c := procedure.DoPrep{Job: a[0], Step: a[1]}
	for _, pair := range a[2:] {
		key, value, _ := strings.Cut(pair, "=")
		var err error
		switch key {
		case "thread":
			err = c.Thread.UnmarshalText([]byte(value))
		case "face":
			err = c.Face.UnmarshalText([]byte(value))
		case "batch":
			c.Batch = value
		case "metal":
			c.Metal = value
		case "celsius":
			var n int
			_, err = fmt.Sscan(value, &n)
			c.Celsius = &n
		default:
			err = fmt.Errorf("prep has no field %q", key)
		}
		if err != nil {
			return nil, err
		}
	}
	return p.do(Request{Command: c})
}

func (p *Player) rework(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.BeginRework{Job: a[0], Step: a[1], From: a[2]}, Note: a[3]})
}

func (p *Player) sign(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.SignHold{Job: a[0], Step: a[1]}, Note: a[2]})
}

func (p *Player) entry(name string) string {
	if name == "last" {
		return p.last
	}
	if id, ok := p.names[name]; ok {
		return id
	}
	return name
}

func (p *Player) accept(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.AcceptResult{Job: a[0], Entry: p.entry(a[1])}, Note: a[2]})
}

func (p *Player) withdraw(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.WithdrawEntry{Entry: p.entry(a[0]), Cause: a[1]}, Note: a[2]})
}

func (p *Player) correct(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.CorrectTool{Entry: p.entry(a[0]), Tool: a[1]}, Note: a[2]})
}

func (p *Player) swap(a []string) ([]string, error) {
	data, err := p.files(a[2])
	if err != nil {
		return nil, err
	}
	sheet, err := procedure.ReadSheet(a[2], data, p.vocab)
	if err != nil {
		return nil, err
	}
	part, ok := sheet.Part(a[1])
	if !ok {
		return nil, fmt.Errorf("%s has no %s", a[2], a[1])
	}
	return p.do(Request{Part: &Swap{Job: a[0], Part: *part}, Note: a[3]})
}

func (p *Player) quarantine(a []string) ([]string, error) {
	return nil, p.bench.Quarantine(p.hand, a[0], a[1])
}

func (p *Player) finish(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.FinishJob{Job: a[0]}})
}

func (p *Player) abandon(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.AbandonJob{Job: a[0]}, Note: a[1]})
}

func (p *Player) release([]string) ([]string, error) {
	return p.do(Request{Command: procedure.ReleaseBuild{}})
}

func (p *Player) status(a []string) ([]string, error) {
	v, err := p.bench.Job(p.hand, a[0])
	if err != nil {
		return nil, err
	}
	var out []string
	for _, s := range v.Steps {
		line := fmt.Sprintf("%s: %s", s.Status, s.Title)
		if s.ID == v.Current && s.Bolt != "" {
			line += fmt.Sprintf(", next bolt %s, pass %d", s.Bolt, s.Pass)
		}
		out = append(out, line)
	}
	return out, nil
}

func (p *Player) audit([]string) ([]string, error) {
	found, err := p.bench.Audit(p.hand)
	if err != nil {
		return nil, err
	}
	if len(found) == 0 {
		return []string{"nothing found"}, nil
	}
	var out []string
	for _, f := range found {
		out = append(out, fmt.Sprintf("found (%s, %s): %s", f.Rule, f.Risk, f.Text))
	}
	return out, nil
}
