package catalogue_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// What must never be greased, by contact and by what is known of the bike. Common
// practice, no source.
var neverGreased = []struct {
	what, contact string
	known         map[string]string
}{
	{"carbon post", "seatpost-in-frame", map[string]string{"seatpost.material": "carbon"}},
	{"telescopic post in its clamp", "seatpost-in-frame", map[string]string{"seatpost.kind": "telescopic"}},
	{"clamp zone of a carbon bar", "bar-in-stem", map[string]string{"handlebar.material": "carbon"}},
	{"bore of a carbon stem", "bar-in-stem", map[string]string{"handlebar.material": "alloy", "stem.material": "carbon"}},
	{"carbon bar under the levers", "lever-on-bar", map[string]string{"handlebar.material": "carbon"}},
	{"carbon steerer and its clamp bore", "steerer-in-stem", map[string]string{"fork.steerer_material": "carbon"}},
	{"metal steerer and its clamp bore", "steerer-in-stem", map[string]string{"fork.steerer_material": "steel"}},
	{"bore of a carbon steerer", "plug-in-steerer", nil},
	{"square taper, right", "square-taper-in-right-arm", nil},
	{"square taper, left", "square-taper-in-left-arm", nil},
	{"rotor faces and pads, front", "braking-face-of-rotor-front", nil},
	{"rotor faces and pads, rear", "braking-face-of-rotor-rear", nil},
	{"rim tracks and pads, front", "braking-face-of-rim-front", nil},
	{"rim tracks and pads, rear", "braking-face-of-rim-rear", nil},
	{"rotor bolts, front", "rotor-bolt-in-hub-front", nil},
	{"rotor bolts, rear", "rotor-bolt-in-hub-rear", nil},
	{"caliper bolts, front", "caliper-bolt-in-mount-front", nil},
	{"caliper bolts, rear", "caliper-bolt-in-mount-rear", nil},
	{"rotor on its seat, front", "rotor-on-hub-front", nil},
	{"rotor on its seat, rear", "rotor-on-hub-rear", nil},
	{"teeth of the saddle clamp", "saddle-clamp-teeth", nil},
	{"saddle rails", "saddle-rails-in-cradle", nil},
	{"grips", "grip-on-bar", nil},
	{"plugs in the bar ends", "plug-in-bar-end", nil},
	{"cam of the quick release, front", "quick-release-cam-front", nil},
	{"cam of the quick release, rear", "quick-release-cam-rear", nil},
	{"faces that grip the slots, front", "faces-on-slots-front", nil},
	{"faces that grip the slots, rear", "faces-on-slots-rear", nil},
	{"brake cable in its anchor, front", "brake-cable-in-anchor-front", nil},
	{"brake cable in its anchor, rear", "brake-cable-in-anchor-rear", nil},
	{"gear cable in its anchor, rear", "derailleur-cable-in-anchor", nil},
	{"gear cable in its anchor, front", "front-derailleur-cable-in-anchor", nil},
}

func TestNeverGreased(t *testing.T) {
	c, err := catalogue.Load()
	require.NoError(t, err)
	for _, tt := range neverGreased {
		t.Run(tt.what, func(t *testing.T) {
			contact := contactNamed(t, c, tt.contact)
			uses := contact.Under(tt.known)
			require.NotEmpty(t, uses)
			for _, use := range uses {
				require.Contains(t, use.Never, procedure.Grease, use.Why)
			}
		})
	}
}

func contactNamed(t testing.TB, c *catalogue.Catalogue, id string) *procedure.Contact {
	t.Helper()
	for i := range c.Contacts {
		if c.Contacts[i].ID == id {
			return &c.Contacts[i]
		}
	}
	require.Fail(t, "no such contact", id)
	return nil
}

// Threadlocker cures on a clean thread only, and grease takes away what paste is
// for. Common practice, no source.
func TestLockedAndPastedForbidGrease(t *testing.T) {
	c, err := catalogue.Load()
	require.NoError(t, err)
	for _, contact := range c.Contacts {
		for _, use := range contact.Uses {
			if use.Use.IsThreadlocker() || use.Use == procedure.CarbonPaste && use.Reason == procedure.Friction {
				require.Contains(t, use.Never, procedure.Grease, "%s: %s", contact.ID, use.Why)
			}
		}
	}
}

// What the explanation of a pair says is what the contacts do, where a contact is
// of that pair and that kind.
func TestPairsAgreeWithContacts(t *testing.T) {
	c, err := catalogue.Load()
	require.NoError(t, err)
	post := contactNamed(t, c, "seatpost-in-frame")
	metals := []string{"steel", "alloy", "anodised-alloy", "titanium", "stainless", "carbon"}
	for _, inner := range metals {
		for _, outer := range metals {
			pair, err := procedure.ExplainPair(inner, outer)
			require.NoError(t, err)
			uses := post.Under(map[string]string{"seatpost.kind": "rigid", "seatpost.material": inner, "frame.material": outer})
			require.Len(t, uses, 1)
			for _, p := range pair.Preps {
				if p.Joint == procedure.TubeJoint {
					require.Equal(t, uses[0].Use, p.Use, strings.Join([]string{inner, outer}, " in "))
				}
			}
		}
	}
}
