package script

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// A Found is one finding of an audit.
type Found struct {
	Rule string
	Risk procedure.Risk
	Job  string
	Step string
	Text string
	// Status says whether it was made good, Note that nobody has to mend it.
	Status audit.Status
	Note   bool
}

// audit lists what is found on the bike. What is found several times in the
// same words, as on each bolt of a group, is one line.
func (p *Player) audit([]string) ([]string, error) {
	found, err := p.bench.Audit(p.hand)
	if err != nil {
		return nil, err
	}
	if len(found) == 0 {
		return []string{"nothing found"}, nil
	}
	times := map[Found]int{}
	for _, f := range found {
		times[f]++
	}
	var out []string
	for _, f := range found {
		if n := times[f]; n > 0 {
			out = append(out, foundLine(f, n))
			times[f] = 0
		}
	}
	return out, nil
}

// foundLine is one finding on one line.
func foundLine(f Found, times int) string {
	line := fmt.Sprintf("found (%s, %s, %v)", f.Rule, f.Risk, f.Status)
	if f.Note {
		line = fmt.Sprintf("noted (%s, %s, %v)", f.Rule, f.Risk, f.Status)
	}
	if f.Job != "" {
		line += " in " + f.Job
	}
	if f.Step != "" {
		line += "/" + f.Step
	}
	if times > 1 {
		line += fmt.Sprintf(", %d times", times)
	}
	return line + ": " + f.Text
}
