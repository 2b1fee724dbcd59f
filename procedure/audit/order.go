package audit

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// order looks at facts that do not count: what was done too early, in the
// wrong order, without prep, or after the job was closed. The record says why.
// Tools and waits have findings of their own.
func (x *examiner) order() {
	for i := range x.facts {
		f := &x.facts[i]
		if f.judgement.Counts || f.judgement.Rule == procedure.RuleWait || strings.HasPrefix(f.judgement.Rule, "tool-") {
			continue
		}
		text := fmt.Sprintf("%s of %q does not count", x.itemWords(f.step, f.item), x.title(f.step))
		if f.judgement.Text != "" {
			text += ": " + f.judgement.Text
		}
		x.add(Finding{Rule: RuleOutOfOrder, Item: f.item, Tool: f.tool, Because: f.judgement.Rule, Sure: Certain,
			Entries: refs(f.Envelope), Status: x.madeGood(f, false),
			Text: text, Mend: "look at the joint, put right what was disturbed, and take it again in order"}, x.state(f.step))
	}
}
