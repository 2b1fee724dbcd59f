package script

import (
	"fmt"
	"io/fs"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// usualPace is how long one entry takes where the script says nothing else, and
// secondLooks how long the second person looks before signing: an invented week
// goes at a human speed, or the auditor would find that nobody can work so fast.
const (
	usualPace   = time.Minute
	secondLooks = 2 * time.Minute
)

// A Player plays a script on a bench.
type Player struct {
	bench Bench
	files fs.FS
	vocab *procedure.Vocabulary
	hand  Hand
	// names maps names given by the script to entries, last the latest.
	names map[string]string
	last  string
	count int
	// pace is how long one entry takes, began says that the script has set the
	// clock.
	pace  time.Duration
	began bool
	// tablets holds those whose clock or network is not as usual.
	tablets map[string]*tablet
	// calibrated holds the last calibration of each tool.
	calibrated map[string]procedure.Calibration
}

// NewPlayer returns a player. Sheets are read with the vocabulary, and what a
// script names is looked for in files.
func NewPlayer(bench Bench, vocab *procedure.Vocabulary, files fs.FS) *Player {
	return &Player{bench: bench, files: files, vocab: vocab, names: map[string]string{},
		pace: usualPace, tablets: map[string]*tablet{}, calibrated: map[string]procedure.Calibration{},
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
	"skill":      {3, 4, (*Player).skill},
	"tool":       {1, 1, (*Player).tools},
	"calibrate":  {7, 9, (*Player).calibrate},
	"quarantine": {2, 2, (*Player).quarantine},
	"dropped":    {1, 1, (*Player).dropped},
	"return":     {1, 1, (*Player).putBack},
	"catalogue":  {1, 1, (*Player).catalogue},
	"at":         {2, 2, (*Player).at},
	"wait":       {1, 1, (*Player).wait},
	"pace":       {1, 1, (*Player).setPace},
	"as":         {1, 1, func(p *Player, a []string) ([]string, error) { p.hand.Person = a[0]; return nil, nil }},
	"tablet":     {1, 1, func(p *Player, a []string) ([]string, error) { p.hand.Tablet = a[0]; return nil, nil }},
	"clock":      {1, 2, (*Player).clock},
	"offline":    {0, 0, (*Player).offline},
	"online":     {0, 0, (*Player).online},
	"on":         {1, 1, func(p *Player, a []string) ([]string, error) { p.hand.Build = a[0]; return nil, nil }},
	"build":      {2, 2, (*Player).build},
	"sheet":      {1, 1, (*Player).sheet},
	"plan":       {1, 1, networked((*Player).plan)},
	"open":       {2, 4, networked((*Player).open)},
	"work":       {1, 7, networked((*Player).work)},
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
	"swap":       {4, 4, networked((*Player).swap)},
	"status":     {1, 1, networked((*Player).status)},
	"audit":      {0, 0, networked((*Player).audit)},
	"finish":     {1, 1, (*Player).finish},
	"abandon":    {2, 2, (*Player).abandon},
	"release":    {0, 0, (*Player).release},
}

// do sends a request and words the outcome, or keeps it on a tablet without a
// network.
func (p *Player) do(r Request) ([]string, error) {
	p.count++
	r.Entry = fmt.Sprintf("%s-entry-%d", p.hand.Build, p.count)
	if t := p.tablets[p.hand.Tablet]; t != nil && t.offline {
		t.kept = append(t.kept, kept{p.here(), r})
		p.last = r.Entry
		p.hand.Now = p.hand.Now.Add(p.pace)
		return []string{"kept on the tablet"}, nil
	}
	o, err := p.bench.Do(p.here(), r)
	if err != nil {
		return nil, err
	}
	p.hand.Now = p.hand.Now.Add(p.pace)
	if o.Refused == "" {
		p.last = r.Entry
	}
	return worded(o), nil
}

// worded says an outcome, a line each.
func worded(o *Outcome) []string {
	if o.Refused != "" {
		return []string{fmt.Sprintf("refused (%s): %s", o.Refused, o.Text)}
	}
	out := []string{fmt.Sprintf("recorded %d", o.Seq)}
	if o.Supervisor != "" {
		out[0] += ", supervised by " + o.Supervisor
	}
	if j := o.Judgement; j != nil {
		out[0] += ": " + j.Verdict.String()
		if !j.Counts {
			out[0] = fmt.Sprintf("recorded %d, does not count (%s): %s", o.Seq, j.Rule, j.Text)
		}
	}
	for _, v := range o.Voids {
		out = append(out, fmt.Sprintf("void: %s/%s %s", v.Job, v.Step, v.Item))
	}
	return out
}

func (p *Player) at(a []string) ([]string, error) {
	t, err := time.Parse("2006-01-02 15:04", a[0]+" "+a[1])
	if err != nil {
		t, err = time.Parse(time.DateTime, a[0]+" "+a[1])
	}
	if err != nil {
		return nil, err
	}
	if p.began && t.Before(p.hand.Now) {
		return nil, fmt.Errorf("it is %s already", p.hand.Now.Format(time.DateTime))
	}
	p.hand.Now, p.began = t, true
	return nil, nil
}

func (p *Player) setPace(a []string) ([]string, error) {
	d, err := time.ParseDuration(a[0])
	if err != nil {
		return nil, err
	}
	p.pace = d
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
