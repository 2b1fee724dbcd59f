package procedure

// A JointRow is one line of the joint table: what a joint of this kind is
// made of and the window that holds where the parts print nothing.
type JointRow struct {
	ID string `json:"id" yaml:"id"`
	// Places, where the joint is at more than one (see Definition.Places).
	Places []string `json:"places,omitempty" yaml:"places"`
	// Title is what the bench calls it; Location where it is on the bike.
	Title    string `json:"title" yaml:"title"`
	Location string `json:"location" yaml:"location"`
	// Thread of the fastener, with its hand; empty where it is the maker's,
	// and then ThreadFrom names the "role.attribute" that holds it: the hand
	// must be known before anything is turned.
	Thread     string `json:"thread,omitempty" yaml:"thread"`
	ThreadFrom string `json:"thread_from,omitempty" yaml:"thread_from"`
	// Window is the table's own, such as "12 N·m to 14 N·m"; empty means
	// that nobody knows one, and the plan stops unless a part prints it.
	Window string `json:"window,omitempty" yaml:"window"`
	// Aim is the value to set where the window and the tool allow it.
	Aim string `json:"aim,omitempty" yaml:"aim"`
	// Limits lists the roles whose parts can carry a limit in this joint.
	// A part of these that prints nothing is limited by the table.
	Limits []string `json:"limits" yaml:"limits"`
	// ThreadPrep is the prep that the window assumes.
	ThreadPrep Prep   `json:"thread_prep" yaml:"thread_prep"`
	Risk       Risk   `json:"risk" yaml:"risk"`
	Note       string `json:"note,omitempty" yaml:"note"`
	Source     Source `json:"source" yaml:"source"`
}
