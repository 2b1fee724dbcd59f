package procedure

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/torque/joint"
)

// A leftHandJoint is a thread that is left-hand in one place of the bike,
// whoever made the parts, and right-hand or not used in others.
type leftHandJoint struct {
	thread string
	// roles are the parts of that place, none for every place; words have to
	// stand in the location of the row where the parts alone do not tell the
	// side, and not are words that mean the other side.
	roles []string
	words string
	not   string
}

// leftHandJoints lists them: left pedals and the drive side of shells turn the
// other way so that riding does not undo them. The shell is ISO 6696:1989 (its
// scope as quoted in a standards catalogue); pedals, the wide shells and the
// lockring of a fixed sprocket are common practice, no source.
func leftHandJoints() []leftHandJoint {
	left := []string{"pedal-left", "crank-arm-left"}
	shell := []string{"bottom-bracket", "bottom-bracket-shell"}
	return []leftHandJoint{
		{thread: "9/16 in x 20 tpi", roles: left},
		{thread: "1/2 in x 20 tpi", roles: left},
		{thread: "M14x1.25", roles: left},
		{thread: "1.37 in x 24 tpi", roles: shell, words: "drive side", not: "non-drive"},
		{thread: "M47x1", roles: shell, words: "drive side", not: "non-drive"},
		{thread: "M48x1.5", roles: shell, words: "drive side", not: "non-drive"},
		{thread: "1.29 in x 24 tpi"},
	}
}

// isLeft reports whether a thread at parts and a location is one of these.
func (l leftHandJoint) isLeft(thread joint.Thread, roles []string, location string) bool {
	own, err := joint.ParseThread(l.thread)
	if err != nil || own != thread.WithHand(joint.RightHand) {
		return false
	}
	if len(l.roles) > 0 && (len(roles) == 0 || slices.ContainsFunc(roles, func(r string) bool { return !slices.Contains(l.roles, r) })) {
		return false
	}
	return strings.Contains(location, l.words) && (l.not == "" || !strings.Contains(location, l.not))
}

// hand wants the thread of a row to say that it is left-hand where the row or
// the place says so: the wrong direction is pulled with a long lever.
func (c *checker) hand(path string, row *JointRow) {
	says := saysLeftHand(row.ID, row.Title, row.Location, row.Note)
	if row.ThreadFrom != "" {
		if a, ok := c.vocab.Attribute(row.ThreadFrom); ok && says && !asksForHand(a) {
			c.add(path+".thread_from", "hand-not-asked", "this joint can be left-hand, and %s does not say how to see it: let its text ask for the lean of the thread or its mark", row.ThreadFrom)
		}
		return
	}
	thread, err := joint.ParseThread(row.Thread)
	if err != nil || thread.Hand() == joint.LeftHand {
		return
	}
	if says || isLeftHandJoint(thread, row.Limits, row.Location) {
		c.add(path+".thread", "missing-hand", "this joint is left-hand: write %s LH", row.Thread)
	}
}

// threadHands is hand for the threads of a step, which has parts in place of
// limits and says in its texts which side it is at.
func (c *checker) threadHands(path string, s *Step) {
	for j, t := range s.Threads {
		thread, err := joint.ParseThread(t.Thread)
		if t.Thread != "" && err == nil && thread.Hand() == joint.RightHand && isLeftHandJoint(thread, s.Parts, strings.ToLower(s.Title)) {
			c.add(fmt.Sprintf("%s.threads[%d].thread", path, j), "missing-hand", "this joint is left-hand: write %s LH", t.Thread)
		}
	}
}

// pinnedHand wants a row whose choice depends on a thread of the bike to have
// that thread's hand.
func (c *checker) pinnedHand(path string, choice JointChoice, row *JointRow) {
	own, err := joint.ParseThread(row.Thread)
	if row.Thread == "" || err != nil {
		return
	}
	for _, key := range choice.When.Keys() {
		for _, v := range choice.When[key] {
			t, err := joint.ParseThread(v)
			if err == nil && t != own && t.WithHand(own.Hand()) == own {
				c.add(path, "wrong-hand", "the row %s is %v, and this choice is for %s of the other hand", row.ID, own, v)
			}
		}
	}
}

func isLeftHandJoint(thread joint.Thread, roles []string, location string) bool {
	return slices.ContainsFunc(leftHandJoints(), func(l leftHandJoint) bool { return l.isLeft(thread, roles, location) })
}

// saysLeftHand reports whether a row calls its joint left-hand. A note says so
// with its first words; further on it may tell of other joints.
func saysLeftHand(id, title, location, note string) bool {
	named := strings.ToLower(strings.ReplaceAll(id, "-", " ") + " " + title + " " + location)
	named = strings.ReplaceAll(named, "left-hand", "left hand")
	note = strings.ToLower(note)
	return strings.Contains(named, "left hand") && !strings.Contains(named, "left hand side") ||
		strings.HasPrefix(note, "left-hand") || strings.Contains(note, "some are left-hand")
}

// asksForHand reports whether an attribute says how to see the hand.
func asksForHand(a *PartAttribute) bool {
	how := strings.ToLower(a.How)
	return strings.Contains(how, "lean") || strings.Contains(how, "hand") || strings.Contains(how, "mark")
}
