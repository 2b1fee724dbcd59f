package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

const postInFrame = `- id: post-in-frame
  title: post in the frame
  between: [frame, seatpost]
  uses:
    - { when: { seatpost.material: [carbon] }, use: carbon-paste, reason: friction, never: [grease], why: It slips. }
    - { use: grease, reason: corrosion, why: It seizes. }
  source: { text: invented, confidence: from-memory }
`

var postWords = &procedure.Vocabulary{Materials: []string{"alloy", "carbon"},
	Roles: []procedure.PartRole{{Role: "frame", Title: "frame"}, {Role: "seatpost", Title: "seatpost"}}}

func readContacts(t testing.TB, text string) []procedure.Contact {
	t.Helper()
	list, err := procedure.ReadContacts("x.yaml", []byte(text))
	require.NoError(t, err)
	return list
}

func TestContacts(t *testing.T) {
	list := readContacts(t, postInFrame)
	require.NoError(t, procedure.CheckContacts(list, postWords))
	require.Equal(t, procedure.Friction, list[0].Uses[0].Reason)
	require.Equal(t, []procedure.Prep{procedure.Grease}, list[0].Uses[0].Never)
}

func TestContactsAreRefused(t *testing.T) {
	for _, c := range []struct {
		rule string
		slip func(*procedure.Contact)
	}{
		{"malformed-id", func(c *procedure.Contact) { c.ID = "Post" }},
		{"unknown-role", func(c *procedure.Contact) { c.Between = []string{"post"} }},
		{"missing", func(c *procedure.Contact) { c.Between = nil }},
		{"missing", func(c *procedure.Contact) { c.Uses = nil }},
		{"missing", func(c *procedure.Contact) { c.Uses[1].Reason = 0 }},
		{"missing", func(c *procedure.Contact) { c.Uses[1].Why = "" }},
		{"contradiction", func(c *procedure.Contact) { c.Uses[1].Never = []procedure.Prep{procedure.Grease} }},
		{"unreachable", func(c *procedure.Contact) { c.Uses[0].When = nil }},
		{"missing", func(c *procedure.Contact) { c.Source = procedure.Source{} }},
	} {
		list := readContacts(t, postInFrame)
		c.slip(&list[0])
		found := procedure.FieldErrors(procedure.CheckContacts(list, postWords))
		require.NotEmpty(t, found, c.rule)
		require.Equal(t, c.rule, found[0].Rule)
	}
	twice := append(readContacts(t, postInFrame), readContacts(t, postInFrame)...)
	require.Equal(t, "duplicate-id", procedure.FieldErrors(procedure.CheckContacts(twice, postWords))[0].Rule)
}

func TestTakeContacts(t *testing.T) {
	list := readContacts(t, postInFrame)
	d := &procedure.Definition{Steps: []procedure.Step{{Prep: &procedure.PrepRule{FaceAt: "post-in-frame"}}, {}}}
	require.NoError(t, d.TakeContacts(list))
	require.Equal(t, list[0].Uses, d.Steps[0].Prep.Face)
	require.Empty(t, d.Steps[0].Prep.Thread)

	again := procedure.FieldErrors(d.TakeContacts(list))
	require.Equal(t, "both", again[0].Rule)
	require.Equal(t, "steps[0].prep.face_at", again[0].Path)

	lost := &procedure.Definition{Steps: []procedure.Step{{Prep: &procedure.PrepRule{ThreadAt: "post-in-fram"}}}}
	found := procedure.FieldErrors(lost.TakeContacts(list))
	require.Equal(t, "unknown-contact", found[0].Rule)
	require.Contains(t, found[0].Text, "post-in-frame")
}
