package teaching_test

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/teaching"
)

// The built-in procedures for somebody who knows the bench, in a shop where
// spacers were forgotten.
func ExampleNew() {
	c, err := catalogue.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	var procedures []*procedure.Resolved
	for _, id := range []string{"cassette-splined-body", "pedals"} {
		p, err := c.Resolve(id)
		if err != nil {
			fmt.Println(err)
			return
		}
		procedures = append(procedures, p)
	}
	findings := []audit.Finding{{Rule: audit.RuleStepMissing, Procedure: "cassette-splined-body", Step: "fit-spacer"}}
	curriculum, err := teaching.New(procedures, findings, teaching.Options{
		Held: []string{"clean-bay", "job-card", "measuring", "torque-basics"},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range curriculum.Modules {
		fmt.Printf("%d. %s (%s h)\n", m.Number, m.ID, m.Hours)
		for _, f := range m.Focus {
			fmt.Printf("   look at %s: %s\n", f.Step, f.Why)
		}
	}
	// Output:
	// 1. threads (2 h)
	// 2. thread-prep (3 h)
	// 3. fit-drivetrain (3 h)
	// 4. cassette (2.5 h)
	//    look at fit-spacer: step missing (1)
	// 5. pedals (1.5 h)
}

// Lessons at one station stay together where what they build on allows it.
func ExampleOrder() {
	order, err := teaching.Order([]teaching.Lesson{
		{ID: "grease", Context: "bench"},
		{ID: "brake", Context: "stand", Needs: []string{"grease"}},
		{ID: "torque", Context: "bench"},
		{ID: "crank", Context: "stand", Needs: []string{"torque"}},
	})
	fmt.Println(strings.Join(order, ", "), err)
	// Output: grease, torque, brake, crank <nil>
}
