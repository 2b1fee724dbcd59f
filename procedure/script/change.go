package script

import (
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// A Change is something that changed in the shop beside the records of its
// bikes. The set is closed here.
type Change interface{ change() }

// Enrol adds a person.
type Enrol struct {
	Name string
	Rank procedure.Rank
}

// ProveSkill adds a line to the skill register of a person, and begins the
// register where there was none.
type ProveSkill struct {
	Person string
	Skill  procedure.HeldSkill
}

// AddTool adds a tool to the rack.
type AddTool struct{ Tool procedure.Tool }

// CalibrateTool adds a calibration.
type CalibrateTool struct {
	Tool        string
	Calibration procedure.Calibration
}

// QuarantineTool sets a tool aside.
type QuarantineTool struct{ Tool, Reason string }

// ReturnTool puts a tool back that was set aside.
type ReturnTool struct{ Tool string }

// AddBuild adds a bike with its sheet.
type AddBuild struct {
	Build string
	Sheet *procedure.Sheet
}

// UpdateSheet replaces the sheet of the bike at hand.
type UpdateSheet struct{ Sheet *procedure.Sheet }

// UseCatalogue plans by these procedures from now on. Jobs keep their plans.
type UseCatalogue struct{ Catalogue *catalogue.Catalogue }

func (Enrol) change()          {}
func (ProveSkill) change()     {}
func (AddTool) change()        {}
func (CalibrateTool) change()  {}
func (QuarantineTool) change() {}
func (ReturnTool) change()     {}
func (AddBuild) change()       {}
func (UpdateSheet) change()    {}
func (UseCatalogue) change()   {}
