package procedure

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// EngineVersion counts the rules by which plans are made and entries are
// judged. It stands in every plan: history is never judged anew by newer
// rules.
const EngineVersion = 1

// A Plan is a procedure worked out for one bike: which steps hold, each
// step's window and why, prep by material pair, tools that can do it, and
// the fit checks with their margin. It is pure data; the job keeps its bytes
// and their digest.
type Plan struct {
	Engine    int    `json:"engine"`
	Build     string `json:"build"`
	Label     string `json:"label,omitempty"`
	Procedure string `json:"procedure"`
	Title     string `json:"title"`
	Edition   int    `json:"edition"`
	Revision  string `json:"revision"`
	// Origin names the layer of the catalogue that the procedure is from.
	Origin      string    `json:"origin,omitempty"`
	SheetDigest string    `json:"sheet_digest"`
	At          time.Time `json:"at"`
	Risk        Risk      `json:"risk"`
	Allowance   Allowance `json:"allowance"`
	Policy      Policy    `json:"policy"`
	Minutes     int       `json:"minutes"`
	Least       int       `json:"least_minutes"`
	Tools       []string  `json:"tools,omitempty"`
	Consumables []string  `json:"consumables,omitempty"`
	Cautions    []string  `json:"cautions,omitempty"`
	// Takes are the skills that the work asks for; a plan made before they were
	// kept has none and asks for none.
	Takes   []string      `json:"takes,omitempty"`
	Fit     []PlannedFit  `json:"fit,omitempty"`
	Steps   []PlannedStep `json:"steps"`
	Skipped []SkippedStep `json:"skipped,omitempty"`
	// Findings say what stops the plan and what to look out for.
	Findings []PlanFinding `json:"findings,omitempty"`
}

// Blocked reports whether a finding stops the plan: no job opens on it.
func (p *Plan) Blocked() bool {
	for _, f := range p.Findings {
		if f.Blocks {
			return true
		}
	}
	return false
}

// Step returns a planned step by id, or false.
func (p *Plan) Step(id string) (*PlannedStep, bool) {
	for i := range p.Steps {
		if p.Steps[i].ID == id {
			return &p.Steps[i], true
		}
	}
	return nil, false
}

// Encode returns the plan's bytes, which are what a job keeps, and the
// SHA-256 of them as 64 hexadecimal digits.
func (p *Plan) Encode() (data []byte, digest string, err error) {
	data, err = json.Marshal(p)
	if err != nil {
		return nil, "", fmt.Errorf("encode plan of %s: %w", p.Procedure, err)
	}
	sum := sha256.Sum256(data)
	return data, hex.EncodeToString(sum[:]), nil
}

// DecodePlan reads what Encode wrote.
func DecodePlan(data []byte) (*Plan, error) {
	var p Plan
	if err := json.Unmarshal(data, &p); err != nil {
		return nil, fmt.Errorf("decode plan: %w", err)
	}
	return &p, nil
}

// A PlanFinding is one thing the plan found, with what to do about it.
type PlanFinding struct {
	Rule string `json:"rule"`
	// Step is where it matters, if anywhere.
	Step string `json:"step,omitempty"`
	// About is the role, attribute, joint or rule it is about.
	About string `json:"about,omitempty"`
	Text  string `json:"text"`
	// Blocks says that no job opens until it is mended.
	Blocks bool `json:"blocks,omitempty"`
}

// The rules of plan findings.
const (
	FindingPartMissing      = "part-missing"
	FindingAttributeMissing = "attribute-missing"
	FindingOtherProcedure   = "other-procedure"
	FindingMisfit           = "misfit"
	FindingTryAndMeasure    = "try-and-measure"
	FindingLimitUnknown     = "limit-unknown"
	FindingWindowsConflict  = "windows-conflict"
	FindingMarkingUnread    = "marking-unreadable"
	FindingThreadUnread     = "thread-unreadable"
	FindingOtherJoint       = "figure-for-another-joint"
	FindingFromMemory       = "window-from-memory"
	FindingNoTool           = "no-tool"
	FindingNoPrep           = "no-prep"
	FindingNoJoint          = "no-joint"
	FindingPrepDiffers      = "prep-differs"
)

// A PlannedFit is the outcome of one fit rule on this bike.
type PlannedFit struct {
	Rule string `json:"rule"`
	// Check is the point of the rule, where it has several.
	Check      string   `json:"check,omitempty"`
	Verdict    string   `json:"verdict"`
	Measured   string   `json:"measured,omitempty"`
	Limit      string   `json:"limit,omitempty"`
	Margin     string   `json:"margin,omitempty"`
	Instrument string   `json:"instrument,omitempty"`
	Needs      []string `json:"needs,omitempty"`
	Why        string   `json:"why"`
	Source     string   `json:"source,omitempty"`
	// Numbers are what the rule worked out, by name, in millimetres or
	// counts as decimals.
	Numbers map[string]string `json:"numbers,omitempty"`
}

// A SkippedStep is a step that does not hold on this bike, and why.
type SkippedStep struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Reason string `json:"reason"`
}

// A PlannedStep is a step as it holds on this bike.
type PlannedStep struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Do      string   `json:"do"`
	Why     string   `json:"why"`
	Accept  string   `json:"accept"`
	Mistake string   `json:"mistake,omitempty"`
	Risk    Risk     `json:"risk"`
	Hands   Hands    `json:"hands,omitempty"`
	Parts   []string `json:"parts,omitempty"`
	Tools   []string `json:"tools,omitempty"`
	// Thread is what is started here, with its hand.
	Thread     string         `json:"thread,omitempty"`
	Hand       joint.Hand     `json:"hand,omitempty"`
	ThreadPrep *PlannedPrep   `json:"thread_prep,omitempty"`
	FacePrep   *PlannedPrep   `json:"face_prep,omitempty"`
	FaceWhere  string         `json:"face_where,omitempty"`
	FaceZone   FaceZone       `json:"face_zone,omitempty"`
	Stack      *PlannedStack  `json:"stack,omitempty"`
	Torque     *PlannedTorque `json:"torque,omitempty"`
	Checks     []PlannedCheck `json:"checks,omitempty"`
	Hold       *Hold          `json:"hold,omitempty"`
	Waits      []Wait         `json:"waits,omitempty"`
	Cautions   []string       `json:"cautions,omitempty"`
	Voids      []string       `json:"voids,omitempty"`
	Rework     []Rework       `json:"rework,omitempty"`
	Due        Due            `json:"due,omitempty"`
	Source     Source         `json:"source"`
}

// A PlannedPrep is the prep for this material pair and the reason.
type PlannedPrep struct {
	Use Prep `json:"use"`
	// Never lists what must not go on here, whatever the habit.
	Never []Prep `json:"never,omitempty"`
	Why   string `json:"why"`
}

// A PlannedTorque is what is tightened on this bike, to what and why.
type PlannedTorque struct {
	Joint    string `json:"joint"`
	Title    string `json:"title"`
	Location string `json:"location,omitempty"`
	// Window is the range inside which the joint must end; its Limits say
	// where each end comes from and Governs which part decides.
	Window     torque.Window `json:"window"`
	Limits     []WindowLimit `json:"limits"`
	Governs    string        `json:"governs"`
	Confidence Confidence    `json:"confidence"`
	// AcceptedBy is the foreman who answers for a from-memory window.
	AcceptedBy string        `json:"accepted_by,omitempty"`
	Assumes    Prep          `json:"assumes,omitempty"`
	Aim        torque.Torque `json:"aim"`
	Bolts      []string      `json:"bolts"`
	Layout     Layout        `json:"layout,omitempty"`
	Order      []string      `json:"order"`
	Passes     []int         `json:"passes"`
	Closing    bool          `json:"closing,omitempty"`
	// ClosingLimit is the number of closing rounds after which to stop.
	ClosingLimit int          `json:"closing_limit,omitempty"`
	ByFeel       bool         `json:"by_feel,omitempty"`
	Choices      []ToolChoice `json:"tools,omitempty"`
}

// A WindowLimit is one end of a window as one part or the table states it.
type WindowLimit struct {
	// End is min or max.
	End   string        `json:"end"`
	Value torque.Torque `json:"value"`
	// From is the role of the part, or "joint table".
	From string `json:"from"`
	// AsWritten is the marking as printed, Where where it was read.
	AsWritten  string     `json:"as_written,omitempty"`
	Where      string     `json:"where,omitempty"`
	Source     string     `json:"source"`
	Confidence Confidence `json:"confidence"`
	// PasteLess is in percent. On a minimum it says by how much it is lowered for
	// the carbon paste of this plan; on a maximum, how much less its maker allows
	// with paste, used here or not.
	PasteLess int `json:"paste_less,omitempty"`
}

// A ToolChoice is one tool of the rack for one step: its setting, or why not.
type ToolChoice struct {
	Tool string   `json:"tool"`
	Kind ToolKind `json:"kind"`
	// Setting is the mark on the tool's scale in its own unit, Passes the
	// marks of each pass in order.
	Setting *torque.Figure  `json:"setting,omitempty"`
	Passes  []torque.Figure `json:"passes,omitempty"`
	// Settings are all settings of this tool that keep what it delivers
	// inside the window.
	Settings *torque.Window `json:"settings,omitempty"`
	// Accept holds the readings with this tool that conform at the plan's
	// probability, Possible those that are not nonconforming: a reading in
	// Possible and not in Accept is undecided. Nil means that there are none.
	Accept   *torque.Window `json:"accept,omitempty"`
	Possible *torque.Window `json:"possible,omitempty"`
	Faults   []ToolFault    `json:"faults,omitempty"`
}

// Can reports whether the tool can do the step.
func (c ToolChoice) Can() bool { return len(c.Faults) == 0 }

// A PlannedCheck is a check with its limits for this bike.
type PlannedCheck struct {
	ID         string    `json:"id"`
	Kind       CheckKind `json:"kind"`
	Ask        string    `json:"ask"`
	Unit       string    `json:"unit,omitempty"`
	Min        string    `json:"min,omitempty"`
	Max        string    `json:"max,omitempty"`
	Instrument string    `json:"instrument,omitempty"`
	Error      string    `json:"error,omitempty"`
	Gap        *Gap      `json:"gap,omitempty"`
}
