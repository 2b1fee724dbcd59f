package procedure

import (
	"slices"
	"time"
)

// A Definition is a procedure as its author wrote it: data, read from YAML,
// checked, and resolved against the joint table. It says what to do on any
// bike; a Plan says what to do on one.
type Definition struct {
	// ID names the procedure: lower-case words joined by hyphens.
	ID string `json:"id" yaml:"id"`
	// Places lists where on the bike the job is done, where it is written once
	// for more than one: front, rear. After reading it holds the one place that
	// this definition is for, and ID ends in it.
	Places []string `json:"places,omitempty" yaml:"places"`
	// Title is what a mechanic calls the job.
	Title string `json:"title" yaml:"title"`
	// Edition is the author's own count, shown beside the digest.
	Edition int `json:"edition" yaml:"edition"`
	// About says in a sentence or two what the job covers and what not.
	About string `json:"about" yaml:"about"`
	// Risk is the class of the job's worst joint.
	Risk Risk `json:"risk" yaml:"risk"`
	// Source says where the procedure's practice comes from.
	Source Source `json:"source" yaml:"source"`
	// Allowance says whether the tool's permitted deviation comes off the
	// window before a setting is chosen. The zero value is AllowTool.
	Allowance Allowance `json:"allowance,omitempty" yaml:"allowance"`
	// Minutes is the time a practised person takes.
	Minutes int `json:"minutes" yaml:"minutes"`
	// LeastMinutes is the shortest plausible time; a job recorded faster was
	// ticked, not done.
	LeastMinutes int `json:"least_minutes" yaml:"least_minutes"`
	// After lists procedures that come first where the bike has them.
	After []string `json:"after,omitempty" yaml:"after"`
	// Roles lists the parts the build sheet must have.
	Roles []string `json:"roles" yaml:"roles"`
	// MayHave lists parts that the job handles where the bike has them. A
	// condition on one that is not on the sheet does not hold.
	MayHave []string `json:"may_have,omitempty" yaml:"may_have"`
	// When says for which bikes the procedure is; on another one the plan
	// stops and says so.
	When Condition `json:"when,omitempty" yaml:"when"`
	// Fit lists the fit rules to pass before a tool is touched.
	Fit []string `json:"fit,omitempty" yaml:"fit"`
	// Cautions hold for the whole job.
	Cautions []string `json:"cautions,omitempty" yaml:"cautions"`
	// Tools and Consumables are what to lay out.
	Tools       []string `json:"tools,omitempty" yaml:"tools"`
	Consumables []string `json:"consumables,omitempty" yaml:"consumables"`
	// Skills lists what the builder must be able to do, in the words of the
	// training plan; Needs are the skills they build on.
	Skills []Skill `json:"skills,omitempty" yaml:"skills"`
	// Steps in order. A step may not start before the earlier ones are done.
	Steps []Step `json:"steps" yaml:"steps"`
}

// handled lists the parts that the job can have to do with.
func (d *Definition) handled() []string { return slices.Concat(d.Roles, d.MayHave) }

// A Skill is something a person can be taught, shown and tested on.
type Skill struct {
	ID    string   `json:"id" yaml:"id"`
	Title string   `json:"title" yaml:"title"`
	Needs []string `json:"needs,omitempty" yaml:"needs"`
	// Hours is what the first teaching of it takes, with a trainer.
	Hours string `json:"hours,omitempty" yaml:"hours"`
	// Test is the practical test that shows it, with its pass criteria.
	Test string `json:"test,omitempty" yaml:"test"`
}

// Allowance is the policy for a tool's deviation.
type Allowance uint8

// The policies.
const (
	// AllowTool takes the tool's permitted deviation off both ends of the
	// window, so that what the tool delivers stays inside.
	AllowTool Allowance = iota
	// AllowNone takes nothing off: a setting at the window's edge is inside.
	AllowNone
)

var allowanceNames = []string{"tool", "none"}

// String returns the policy in words.
func (a Allowance) String() string { return enumName(allowanceNames, a) }

// MarshalText writes the policy in words.
func (a Allowance) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (a *Allowance) UnmarshalText(b []byte) (err error) {
	*a, err = enumParse[Allowance]("allowance", allowanceNames, string(b))
	return err
}

// A Step is one visit of the hand to the bike.
type Step struct {
	ID    string `json:"id" yaml:"id"`
	Title string `json:"title" yaml:"title"`
	// Do is the instruction, Why its reason, Accept what a good result is.
	Do     string `json:"do" yaml:"do"`
	Why    string `json:"why" yaml:"why"`
	Accept string `json:"accept" yaml:"accept"`
	// Mistake is what beginners do wrong here.
	Mistake string `json:"mistake,omitempty" yaml:"mistake"`
	// When limits the step to bikes for which it holds.
	When Condition `json:"when,omitempty" yaml:"when"`
	// Parts lists the roles whose parts the hand handles in this step: when
	// one of them is swapped later, the step's results are void.
	Parts []string `json:"parts,omitempty" yaml:"parts"`
	// Risk overrides the procedure's class for this step.
	Risk Risk `json:"risk,omitempty" yaml:"risk"`
	// Hands says what the step asks of the hands, or leaves on them.
	Hands Hands `json:"hands,omitempty" yaml:"hands"`
	// Tools beside the torque wrench.
	Tools []string `json:"tools,omitempty" yaml:"tools"`
	// Threads are the threads that the hand starts or prepares here, where the
	// step has no joint; a torque step takes its thread from its joint. A
	// torque step's prep is stated in the step itself or in an earlier step
	// that lists the joint's thread here and has a thread prep.
	Threads []ThreadChoice `json:"threads,omitempty" yaml:"threads"`
	// Stack is what is pushed onto a body here, for the drawing of it.
	Stack  *StackRule  `json:"stack,omitempty" yaml:"stack"`
	Prep   *PrepRule   `json:"prep,omitempty" yaml:"prep"`
	Torque *TorqueRule `json:"torque,omitempty" yaml:"torque"`
	Checks []Check     `json:"checks,omitempty" yaml:"checks"`
	Hold   *Hold       `json:"hold,omitempty" yaml:"hold"`
	Waits  []Wait      `json:"waits,omitempty" yaml:"waits"`
	// Cautions are shown before the step.
	Cautions []string `json:"cautions,omitempty" yaml:"cautions"`
	// Voids lists whose results a hand in this step spoils: "step",
	// "procedure/step" or "procedure/*".
	Voids []string `json:"voids,omitempty" yaml:"voids"`
	// Rework says what to do when the step does not come out.
	Rework []Rework `json:"rework" yaml:"rework"`
	// Due says what waits for the step.
	Due Due `json:"due,omitempty" yaml:"due"`
	// Source overrides the procedure's source for this step.
	Source *Source `json:"source,omitempty" yaml:"source"`
}

// Due says what a step must precede.
type Due uint8

// The dues.
const (
	// BeforeFinish steps are part of the job.
	BeforeFinish Due = iota
	// BeforeRelease steps come later, such as a re-check after the test
	// ride, and hold back the bike, not the job.
	BeforeRelease
)

var dueNames = []string{"finish", "release"}

// String returns the due in words.
func (d Due) String() string { return enumName(dueNames, d) }

// MarshalText writes the due in words.
func (d Due) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (d *Due) UnmarshalText(b []byte) (err error) {
	*d, err = enumParse[Due]("due", dueNames, string(b))
	return err
}

// A ThreadChoice is a thread that holds under a condition.
type ThreadChoice struct {
	When   Condition `json:"when,omitempty" yaml:"when"`
	Thread string    `json:"thread,omitempty" yaml:"thread"`
	// ThreadFrom names the attribute of the build sheet that says the thread
	// where it is the maker's, such as crankset.bolt_thread; a choice has
	// exactly one of Thread and ThreadFrom.
	ThreadFrom string `json:"thread_from,omitempty" yaml:"thread_from"`
}

// A PrepRule says what goes on the thread and what on the contact face. The
// first choice whose condition holds is the plan's; a surface without a
// choice is not prepared and not asked about.
type PrepRule struct {
	Thread []PrepChoice `json:"thread,omitempty" yaml:"thread"`
	Face   []PrepChoice `json:"face,omitempty" yaml:"face"`
	// ThreadAt and FaceAt name the contact that the choices come from, in
	// place of choices written out.
	ThreadAt string `json:"thread_at,omitempty" yaml:"thread_at"`
	FaceAt   string `json:"face_at,omitempty" yaml:"face_at"`
	// Where describes the contact face in words.
	Where string `json:"where,omitempty" yaml:"where"`
	// Zone says which contact face that is, for the drawing of it.
	Zone FaceZone `json:"zone,omitempty" yaml:"zone"`
}

// A PrepChoice is a prep that holds for a material pair.
type PrepChoice struct {
	When Condition `json:"when,omitempty" yaml:"when"`
	Use  Prep      `json:"use" yaml:"use"`
	// Reason says what the prep is for; a contact always gives it.
	Reason Reason `json:"reason,omitempty" yaml:"reason"`
	// Never lists what must not go on this surface whatever the habit.
	Never []Prep `json:"never,omitempty" yaml:"never"`
	Why   string `json:"why" yaml:"why"`
}

// A TorqueRule says what is tightened, in which order and to what.
type TorqueRule struct {
	// Joints are rows of the joint table; the first whose condition holds.
	Joints []JointChoice `json:"joints" yaml:"joints"`
	// Bolts are the fasteners of the joint by the names on the drawing.
	Bolts []string `json:"bolts" yaml:"bolts"`
	// Layout says where they are, for the drawing, where their names do not.
	Layout Layout `json:"layout,omitempty" yaml:"layout"`
	// Order is the order of one pass; empty means as in Bolts.
	Order []string `json:"order,omitempty" yaml:"order"`
	// Passes are percentages of the aim, the last of them 100.
	Passes []int `json:"passes" yaml:"passes"`
	// Closing asks for rounds at full value until no bolt turns before the
	// tool signals. Only such a round is evidence for a group.
	Closing bool `json:"closing,omitempty" yaml:"closing"`
	// ClosingLimit is the number of rounds after which to stop and find out
	// why; 0 means 3 (common practice, no source).
	ClosingLimit int `json:"closing_limit,omitempty" yaml:"closing_limit"`
	// ByFeel marks a joint found by feel: the reading is information, its
	// window still a limit.
	ByFeel bool `json:"by_feel,omitempty" yaml:"by_feel"`
}

// A JointChoice is a joint row that holds under a condition.
type JointChoice struct {
	When  Condition `json:"when,omitempty" yaml:"when"`
	Joint string    `json:"joint" yaml:"joint"`
}

// CheckKind says what a check asks for.
type CheckKind uint8

// The kinds of check.
const (
	// Look asks for a yes or no from eye, ear or finger.
	Look CheckKind = iota + 1
	// Measure asks for a figure with its unit and instrument.
	Measure
	// Photo asks for a picture.
	Photo
)

var checkNames = []string{"", "look", "measure", "photo"}

// String returns the kind in words.
func (k CheckKind) String() string { return enumName(checkNames, k) }

// MarshalText writes the kind in words.
func (k CheckKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (k *CheckKind) UnmarshalText(b []byte) (err error) {
	*k, err = enumParse[CheckKind]("check kind", checkNames, string(b))
	return err
}

// A Check is one piece of evidence asked for in a step.
type Check struct {
	ID   string    `json:"id" yaml:"id"`
	Kind CheckKind `json:"kind" yaml:"kind"`
	// Ask is the question, put so that yes is good.
	Ask  string    `json:"ask" yaml:"ask"`
	When Condition `json:"when,omitempty" yaml:"when"`
	// Gap says where the gap is that the check is about, for the drawing of it.
	Gap *Gap `json:"gap,omitempty" yaml:"gap"`
	// Unit, Min and Max belong to a measure; decimals as text. Unit is mm, turns,
	// deg, teeth, count, degC, N, percent, bar, km, kg, min or s.
	Unit string `json:"unit,omitempty" yaml:"unit"`
	Min  string `json:"min,omitempty" yaml:"min"`
	Max  string `json:"max,omitempty" yaml:"max"`
	// Expect takes the limits from a number that a fit rule worked out, such
	// as body-length.spacer, plus or minus Within.
	Expect string `json:"expect,omitempty" yaml:"expect"`
	Within string `json:"within,omitempty" yaml:"within"`
	// Instrument is what to measure with; Error is its error in Unit.
	Instrument string `json:"instrument,omitempty" yaml:"instrument"`
	Error      string `json:"error,omitempty" yaml:"error"`
	// Source names where the limits come from when it is not the step's.
	Source *Source `json:"source,omitempty" yaml:"source"`
}

// Signer says who must sign a hold point.
type Signer uint8

// The signers.
const (
	// SecondPerson is another person, able, who looks before the next step.
	SecondPerson Signer = iota + 1
	// ForemanSigns is a foreman; work stops until then.
	ForemanSigns
)

var signerNames = []string{"", "second-person", "foreman"}

// String returns the signer in words.
func (s Signer) String() string { return enumName(signerNames, s) }

// MarshalText writes the signer in words.
func (s Signer) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *Signer) UnmarshalText(b []byte) (err error) {
	*s, err = enumParse[Signer]("signer", signerNames, string(b))
	return err
}

// A Hold stops the job after its step until somebody else has looked.
type Hold struct {
	By Signer `json:"by" yaml:"by"`
	// LooksAt says what to look at, feel or try; a signature says what was
	// seen, never just yes.
	LooksAt string    `json:"looks_at" yaml:"looks_at"`
	When    Condition `json:"when,omitempty" yaml:"when"`
}

// A Wait is a clock with conditions: a compound that cures, oil that dries.
type Wait struct {
	// With limits the wait to these preps on the thread; empty means any.
	With []Prep `json:"with,omitempty" yaml:"with"`
	// For is the least time in ordinary conditions, such as 24h.
	For Duration `json:"for" yaml:"for"`
	// Before is what has to wait: a later step's id, a step of another
	// procedure as "procedure/step", finish or release.
	Before string `json:"before" yaml:"before"`
	// Longer lists what multiplies the time.
	Longer []Longer `json:"longer,omitempty" yaml:"longer"`
	Why    string   `json:"why" yaml:"why"`
	Source Source   `json:"source" yaml:"source"`
}

// Longer multiplies a wait under a condition. Both conditions given means
// both must hold; factors of several entries that hold do not multiply, the
// largest counts (common practice, no source).
type Longer struct {
	// Metals are metals on which the compound cures slowly.
	Metals []string `json:"metals,omitempty" yaml:"metals"`
	// BelowCelsius holds when the joint was colder than this.
	BelowCelsius *int `json:"below_celsius,omitempty" yaml:"below_celsius"`
	// Times is the factor, at least 1.
	Times int `json:"times" yaml:"times"`
}

// Rework is a way back when a step does not come out.
type Rework struct {
	// If is what was found, Do what to do about it.
	If string `json:"if" yaml:"if"`
	Do string `json:"do" yaml:"do"`
	// From is the step to go back to; empty means this one. The word stop
	// means that the job cannot go on with this part.
	From string `json:"from,omitempty" yaml:"from"`
}

// Duration is a time.Duration that reads and writes as text, such as 1h30m.
type Duration time.Duration

// MarshalText writes the duration as time.Duration does.
func (d Duration) MarshalText() ([]byte, error) { return []byte(time.Duration(d).String()), nil }

// UnmarshalText reads what time.ParseDuration reads; negative is refused.
func (d *Duration) UnmarshalText(b []byte) error {
	v, err := time.ParseDuration(string(b))
	if err != nil || v < 0 {
		return &FieldError{Rule: "malformed-duration", Text: "write a time such as 30m, 3h or 24h, not " + string(b)}
	}
	*d = Duration(v)
	return nil
}
