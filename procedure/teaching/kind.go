package teaching

// Kind is what a question is about. The codes never change their meaning.
type Kind string

// The kinds of question.
const (
	ConvertWindow   Kind = "convert-window"   // the window of a joint on a scale in another unit
	LowestGoverns   Kind = "lowest-governs"   // a part prints less than the table
	LimitUnknown    Kind = "limit-unknown"    // nobody knows a window
	LowestSetting   Kind = "lowest-setting"   // where the use of a scale begins
	SettingRange    Kind = "setting-range"    // the marks that may be set
	DeliveredRange  Kind = "delivered-range"  // what may come out at a setting
	PassSetting     Kind = "pass-setting"     // the mark of an early pass
	ToolChoice      Kind = "tool-choice"      // which tools can vouch for a joint
	Deviation       Kind = "deviation"        // how far a tool is off, and which way
	WorstCase       Kind = "worst-case"       // what a joint got from a tool found off
	ThreadDirection Kind = "thread-direction" // clockwise or counterclockwise
	PrepChoice      Kind = "prep-choice"      // what goes on which surface
	BoltOrder       Kind = "bolt-order"       // the order of one pass
	Pulls           Kind = "pulls"            // how many pulls until a group holds
	VoidMap         Kind = "void-map"         // what leans on a step
	HoldSigner      Kind = "hold-signer"      // who may sign
	ReleaseTime     Kind = "release-time"     // when a wait is over
	MeasureVerdict  Kind = "measure-verdict"  // what a reading near a limit proves
	Spacer          Kind = "spacer"           // what lies behind a cassette
	ShellSpacers    Kind = "shell-spacers"    // what lies between a shell and a crank
)

// A KindInfo says what a kind asks.
type KindInfo struct {
	Kind Kind   `json:"kind"`
	Asks string `json:"asks"`
	// Topics are the ids of skills that it belongs to beside those of its own
	// procedure, in the words of the skill list.
	Topics []string `json:"topics,omitempty"`
}

// Kinds lists the kinds of question.
func Kinds() []KindInfo {
	return []KindInfo{
		{ConvertWindow, "a window in another unit, rounded inwards", []string{"torque-basics"}},
		{LowestGoverns, "which limit governs where two meet", []string{"job-card", "torque-basics"}},
		{LimitUnknown, "what to do when no limit is known", []string{"job-card"}},
		{LowestSetting, "the lowest torque a tool is used at", []string{"torque-basics", "wrench-care"}},
		{SettingRange, "the settings that keep the delivered torque inside the window", []string{"torque-basics", "wrench-care"}},
		{DeliveredRange, "what a tool may deliver at a setting", []string{"torque-basics", "wrench-care"}},
		{PassSetting, "the setting for an early pass", []string{"group-tightening"}},
		{ToolChoice, "which tools can vouch for a joint on a day", []string{"wrench-care"}},
		{Deviation, "the deviation of a tool and its sign", []string{"wrench-care"}},
		{WorstCase, "what a joint got from a tool that was found off", []string{"wrench-care"}},
		{ThreadDirection, "which way a thread turns", []string{"threads"}},
		{PrepChoice, "which prep goes on which surface for these materials", []string{"thread-prep"}},
		{BoltOrder, "the order of the bolts", []string{"group-tightening"}},
		{Pulls, "the number of pulls with all passes and closing rounds", []string{"group-tightening"}},
		{VoidMap, "which results are void when a step is taken apart", nil},
		{HoldSigner, "who may sign a hold point", nil},
		{ReleaseTime, "when a wait is over", []string{"thread-prep"}},
		{MeasureVerdict, "what a reading near a limit proves", []string{"measuring"}},
		{Spacer, "the spacer between a body and a cassette", []string{"fit-drivetrain"}},
		{ShellSpacers, "the spacers between a shell and a crank", []string{"fit-frame"}},
	}
}

// kindTopics maps each kind to the skills that it belongs to.
func kindTopics() map[Kind][]string {
	topics := map[Kind][]string{}
	for _, info := range Kinds() {
		topics[info.Kind] = info.Topics
	}
	return topics
}
