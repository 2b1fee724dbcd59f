package teaching

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// A Curriculum is what to teach, in order.
type Curriculum struct {
	Seed uint64 `json:"seed"`
	// Procedures are those it was made from, Held the skills left out.
	Procedures []ProcedureRef `json:"procedures"`
	Held       []string       `json:"held,omitempty"`
	Modules    []Module       `json:"modules"`
	// Hours is the sum over the modules, as a decimal; Changes counts how often
	// the context changes from one skill to the next.
	Hours   string `json:"hours"`
	Changes int    `json:"changes"`
}

// A ProcedureRef names a procedure as it was followed.
type ProcedureRef struct {
	ID       string             `json:"id"`
	Title    string             `json:"title"`
	Revision procedure.Revision `json:"revision"`
}

// A Module is a stretch of teaching in one context.
type Module struct {
	// ID is the id of its first skill, Number its place from 1.
	ID     string `json:"id"`
	Number int    `json:"number"`
	Title  string `json:"title"`
	// Context is the skill that the lessons work towards, or "bench" for what
	// several build on.
	Context string            `json:"context"`
	Skills  []procedure.Skill `json:"skills"`
	// Procedures are those the module is practiced on, Risk their worst class.
	Procedures []string       `json:"procedures"`
	Risk       procedure.Risk `json:"risk,omitempty"`
	// Hours is for one trainee with one trainer, as a decimal.
	Hours string `json:"hours"`
	// Why says why the module is where it is.
	Why []string `json:"why,omitempty"`
	// Focus lists steps that this shop's findings point to, most first.
	Focus  []Focus   `json:"focus,omitempty"`
	LayOut LayOut    `json:"lay_out"`
	Test   BenchTest `json:"test"`
	// Fault is to be planted and caught.
	Fault     *PlantedFault `json:"fault,omitempty"`
	Questions []Question    `json:"questions,omitempty"`
}

// Bench is the context of skills that several kinds of work build on.
const Bench = "bench"

// New makes a curriculum from resolved procedures and from what an audit found
// in this shop, if anything. Findings about procedures that are not given, and
// notes, are left aside.
//
// Errors are joined field errors: options that cannot be, a procedure twice,
// skills that are worded differently in two procedures, needs that nothing
// teaches, or a circle of needs, which is named.
func New(procedures []*procedure.Resolved, findings []audit.Finding, options Options) (*Curriculum, error) {
	m, err := newMaker(procedures, findings, options)
	if err != nil {
		return nil, err
	}
	order := m.order()
	c := &Curriculum{Seed: m.options.Seed, Held: m.options.Held, Changes: m.changes(order)}
	for _, p := range procedures {
		c.Procedures = append(c.Procedures, ProcedureRef{ID: p.ID, Title: p.Title, Revision: p.Revision})
	}
	c.Modules = m.modules(order)
	hours := new(big.Rat)
	for i := range c.Modules {
		hours.Add(hours, decimal(c.Modules[i].Hours))
	}
	c.Hours = decimalText(hours)
	return c, nil
}

// A maker carries what the parts of a curriculum share.
type maker struct {
	options    Options
	procedures []*procedure.Resolved
	byID       map[string]*procedure.Resolved
	// place is the place of a procedure among them.
	place   map[string]int
	skills  []*skill
	bySkill map[string]*skill
	faults  *faults
	pool    *pool
}

// newMaker checks the arguments, all mistakes at once, and gathers what the
// parts of a curriculum share.
func newMaker(procedures []*procedure.Resolved, findings []audit.Finding, options Options) (*maker, error) {
	m := &maker{options: options.filled(), procedures: procedures, byID: map[string]*procedure.Resolved{}, place: map[string]int{}}
	errs := []error{options.check()}
	for i, p := range procedures {
		if m.byID[p.ID] != nil {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("procedures[%d].id", i), Rule: "duplicate-id",
				Text: fmt.Sprintf("the procedure %q is there twice: keep one", p.ID)})
		}
		m.byID[p.ID], m.place[p.ID] = p, i
	}
	errs = append(errs, m.gather())
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	m.faults = countFaults(m, findings)
	m.pool = newPool(m)
	return m, nil
}

// decimal reads a plain decimal; what is none counts as 0.
func decimal(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return new(big.Rat)
	}
	return r
}
