package audit_test

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// loud is a test that an example can fail in.
type loud struct{}

func (loud) Errorf(format string, args ...any) { fmt.Printf(format, args...) }
func (loud) FailNow()                          { panic("the example does not work") }
func (loud) Helper()                           {}

// A joint is tightened with the wrong prep, then taken apart and done again;
// later a calibration finds the wrench off.
func Example() {
	b := richBench(loud{}) // plays an invented job, see rich_test.go
	b.open()
	b.steps("clean")
	b.do(builder, procedure.DoPrep{Job: job, Step: "clamp", Thread: procedure.Dry, Face: procedure.Dry})
	b.do(builder, procedure.BeginRework{Job: job, Step: "clamp", Reason: "hmac"})
	b.steps("clamp")

	view := audit.View{At: monday.AddDate(0, 0, 10), Tools: foundLater(calibration(4, "1.09", "1.00"))}
	findings, err := audit.Job(b.build, job, view)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings[:3] {
		fmt.Println(f.Rule, f.Item, f.Sure, f.Status)
		fmt.Println("  " + f.Text)
		fmt.Println("  " + f.Mend)
	}
	s := audit.Summarize(findings)
	fmt.Println(s.Open, "open,", s.Reworked, "reworked,", s.Notes, "notes")
	// Output:
	// prep-not-as-planned prep certain reworked
	//   "close the clamp" was prepared with clean and dry on the thread and clean and dry on the contact face, planned was grease on the thread and clean and dry on the contact face
	//   take the joint apart, clean it, prepare it as planned and tighten it again: the window holds for that prep only
	// possibly-out-of-tolerance bolt.A possible open
	//   tw-small was found on 2025-03-07 to deliver 109 % of what it is set to: 6.5 N·m was at worst 7.085 N·m, 1.2 % over the maximum of 7 N·m
	//   stop the bike: take the joint apart, inspect the parts, and let the foreman decide
	// possibly-out-of-tolerance bolt.B possible open
	//   tw-small was found on 2025-03-07 to deliver 109 % of what it is set to: 6.5 N·m was at worst 7.085 N·m, 1.2 % over the maximum of 7 N·m
	//   stop the bike: take the joint apart, inspect the parts, and let the foreman decide
	// 4 open, 1 reworked, 0 notes
}
