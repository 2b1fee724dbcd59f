package joint

import "encoding/json"

// A Warning is something a reader of a result must not overlook.
type Warning uint8

const (
	// MoreFiguresThanScatter: the preload is printed in full for further
	// calculation; its scatter deserves far fewer figures.
	MoreFiguresThanScatter Warning = iota
	// MayYield: at the high end of the band the bolt is loaded beyond its yield.
	MayYield
	// Yields: the bolt is loaded beyond its yield at nominal friction.
	Yields
	// OverProof: the high end of the band is over the proof load.
	OverProof
	// MayCrushSeat: the pressure under the head may exceed what the part bears.
	MayCrushSeat
	// NotSelfLocking: at the low end of friction the thread unwinds by itself.
	NotSelfLocking
	// MayGap: the torque may lift one edge of a flat or face off its seat.
	MayGap
	// MayStrip: the high end of the preload is over what the thread holds.
	MayStrip
	// MayCrushTube: the local pressure stresses a thin tube hard.
	MayCrushTube
	// MayOpen: with a bolt loose the clamp may hold by nothing.
	MayOpen
	// MayCrushArm: the pressure on the flats may exceed what the arm bears.
	MayCrushArm
	warningCount
)

var warningTexts = [warningCount]struct{ id, text string }{
	MoreFiguresThanScatter: {"more-figures-than-scatter", "preload is given in full for further calculation only; read no more figures than its scatter deserves"},
	MayYield:               {"may-yield", "with low friction and a wrench at its high end the bolt is loaded beyond its yield"},
	Yields:                 {"yields", "the bolt is loaded beyond its yield"},
	OverProof:              {"over-proof", "the high end of the preload is over the proof load"},
	MayCrushSeat:           {"may-crush-seat", "the pressure under the head may be more than the part bears"},
	NotSelfLocking:         {"not-self-locking", "at low friction the thread turns back by itself"},
	MayGap:                 {"may-gap", "the torque may lift one edge off its seat with every stroke"},
	MayStrip:               {"may-strip", "the high end of the preload is over what the engaged thread holds"},
	MayCrushTube:           {"may-crush-tube", "at the slot and the clamp edges the pressure is two to four times the mean; a thin tube may be crushed there"},
	MayOpen:                {"may-open", "with one bolt loose the clamp may hold by nothing"},
	MayCrushArm:            {"may-crush-arm", "the pressure on the flats may be more than the arm bears: then it creeps up the taper each time it is tightened"},
}

// String returns the short name of w: "may-yield".
func (w Warning) String() string {
	if w < warningCount {
		return warningTexts[w].id
	}
	return "warning"
}

// Text returns w in plain words.
func (w Warning) Text() string {
	if w < warningCount {
		return warningTexts[w].text
	}
	return ""
}

// Warnings is a set of [Warning]; the zero value is empty.
type Warnings uint32

// with returns the set with w in it where yes is true.
func (s Warnings) with(w Warning, yes bool) Warnings {
	if yes {
		return s | 1<<w
	}
	return s
}

// Has reports whether w is in the set.
func (s Warnings) Has(w Warning) bool { return w < warningCount && s&(1<<w) != 0 }

// List returns the warnings of the set in a fixed order.
func (s Warnings) List() []Warning {
	list := []Warning{}
	for w := range warningCount {
		if s.Has(w) {
			list = append(list, w)
		}
	}
	return list
}

// MarshalJSON writes a list of objects with "id" and "text".
func (s Warnings) MarshalJSON() ([]byte, error) {
	type entry struct {
		ID   string `json:"id"`
		Text string `json:"text"`
	}
	list := []entry{}
	for _, w := range s.List() {
		list = append(list, entry{w.String(), w.Text()})
	}
	return json.Marshal(list)
}
