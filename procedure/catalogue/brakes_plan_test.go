package catalogue_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// brakeBike is an invented bike by role and attribute, with enough on its sheet
// for the brake jobs of both ends.
type brakeBike map[string]map[string]string

// at sets attributes of a role at both ends.
func (b brakeBike) at(role string, is map[string]string) brakeBike {
	for _, place := range []string{"front", "rear"} {
		b.set(role+"-"+place, is)
	}
	return b
}

// held sets attributes of fork and frame.
func (b brakeBike) held(is map[string]string) brakeBike { return b.set("fork", is).set("frame", is) }

func (b brakeBike) set(role string, is map[string]string) brakeBike {
	if b[role] == nil {
		b[role] = map[string]string{}
	}
	maps.Copy(b[role], is)
	return b
}

func (b brakeBike) sheet() *procedure.Sheet {
	s := &procedure.Sheet{Build: "brakes", Label: "invented", Invented: true}
	for _, role := range slices.Sorted(maps.Keys(b)) {
		is := maps.Clone(b[role])
		material := "alloy"
		if m, ok := is["material"]; ok {
			material = m
			delete(is, "material")
		}
		s.Parts = append(s.Parts, procedure.Part{Role: role, Material: material, Is: is})
	}
	return s
}

// discBike has posts and six-bolt rotors, hydraulic.
func discBike() brakeBike {
	b := brakeBike{}
	return b.held(map[string]string{"brake_mount": "post", "rotor_native": "160 mm", "rotor_limit": "180 mm"}).
		at("hub", map[string]string{"rotor_seat": "six bolts on 44 mm"}).
		at("rotor", map[string]string{"fixing": "six-bolt", "size": "160 mm", "bolts": "new-with-compound"}).
		at("caliper", map[string]string{"kind": "disc-hydraulic", "mount": "post", "adaptor": "none", "bolts": "new-with-compound",
			"fluid": "mineral-oil", "hose": "closed"}).
		at("brake-lever", map[string]string{"works": "hydraulic", "fluid": "mineral-oil"}).
		at("brake-pads", map[string]string{"pin": "clip"})
}

// rimBike has side-pull brakes.
func rimBike() brakeBike {
	b := brakeBike{}
	return b.set("fork", map[string]string{"rim_brake_mount": "drilled-crown", "rim_brake_reach": "45 mm"}).
		set("frame", map[string]string{"rim_brake_mount": "drilled-bridge", "rim_brake_reach": "45 mm"}).
		at("rim", map[string]string{"brake_track": "present"}).
		at("caliper", map[string]string{"kind": "side-pull", "pull": "short-pull", "reach_least": "39 mm", "reach_most": "49 mm", "anchor_thread": "M6x1"}).
		at("brake-lever", map[string]string{"works": "cable", "pull": "short-pull"}).
		at("brake-pads", map[string]string{"insert": "cartridge"})
}

func splined(b brakeBike) brakeBike {
	return b.at("hub", map[string]string{"rotor_seat": "spline"}).
		at("rotor", map[string]string{"fixing": "splined", "lockring": "internal", "lockring_thread": "M30.6x1"})
}

func flat(b brakeBike) brakeBike {
	return b.held(map[string]string{"brake_mount": "flat", "rotor_native": "160 mm"}).
		set("frame", map[string]string{"brake_mount_thickness": "23 mm"}).set("fork", map[string]string{"brake_mount_thickness": "8 mm"}).
		at("caliper", map[string]string{"mount": "flat"}).
		set("caliper-rear", map[string]string{"bolt_length": "31 mm"}).
		set("caliper-front", map[string]string{"bolt_length": "16 mm", "adaptor": "flat-plate"})
}

func rack() []procedure.Tool {
	calibrated := []procedure.Calibration{{At: monday.AddDate(0, -6, 0), Due: monday.AddDate(0, 6, 0), Hands: []joint.Hand{joint.RightHand, joint.LeftHand}}}
	return []procedure.Tool{
		{ID: "driver", Kind: procedure.Setting, Min: "0.3", Max: "2", Graduation: "0.05", Calibrations: calibrated},
		{ID: "small", Kind: procedure.Setting, Min: "2", Max: "14", Graduation: "0.1", Calibrations: calibrated},
		{ID: "large", Kind: procedure.Setting, Min: "10", Max: "60", Graduation: "1", Calibrations: calibrated},
	}
}

// The joints that each kind of brake asks for, in the order of the work, with a
// tool on the rack for every one; nothing stops the plans but that their
// figures are from memory.
func TestBrakeJobsOnEveryKindOfBrake(t *testing.T) {
	discCable := map[string]string{"kind": "disc-cable", "pull": "short-pull", "anchor_thread": "M5x0.8"}
	cable := map[string]string{"works": "cable", "pull": "short-pull"}
	for _, tc := range []struct {
		name, job string
		bike      brakeBike
		want      string
	}{
		{"six bolts", "rotor-front", discBike(), "rotor-bolt-m5-front"},
		{"ring notched inside", "rotor-rear", splined(discBike()), "rotor-lockring-internal-rear"},
		{"ring notched outside", "rotor-front", splined(discBike()).at("rotor", map[string]string{"lockring": "external", "lockring_thread": "M40x1"}),
			"rotor-lockring-external-front"},
		{"posts", "disc-caliper-front", discBike(), "post-mount-caliper-bolt-m6-front"},
		{"posts on an adaptor", "disc-caliper-rear", discBike().at("caliper", map[string]string{"adaptor": "post-to-post"}).at("rotor", map[string]string{"size": "180 mm"}),
			"post-mount-caliper-bolt-m6-rear " + "post-mount-caliper-bolt-m6-rear"},
		{"side tabs with an adaptor", "disc-caliper-front", discBike().held(map[string]string{"brake_mount": "side-tab"}).at("caliper", map[string]string{"adaptor": "tab-to-post"}),
			"side-tab-adaptor-bolt-m6-front post-mount-caliper-bolt-m6-front"},
		{"caliper on side tabs", "disc-caliper-rear", discBike().held(map[string]string{"brake_mount": "side-tab"}).at("caliper", map[string]string{"mount": "side-tab"}),
			"side-tab-adaptor-bolt-m6-rear"},
		{"flat, front", "disc-caliper-front", flat(discBike()), "flat-mount-caliper-to-plate-bolt-m5-front flat-mount-plate-bolt-m5-front"},
		{"flat, rear", "disc-caliper-rear", flat(discBike()), "flat-mount-caliper-bolt-m5-rear"},
		{"hose opened at both ends, pads on a screw", "disc-caliper-rear",
			discBike().at("caliper", map[string]string{"hose": "opened-at-both", "bleed_thread": "M5x0.8"}).at("brake-lever", map[string]string{"bleed_thread": "M5x0.8"}).
				at("brake-pads", map[string]string{"pin": "threaded", "pin_thread": "M4x0.7"}),
			"hose-banjo-bolt-m6-rear hose-compression-nut-m8x0-75-rear bleed-port-screw-caliper-rear bleed-port-screw-lever-rear pad-retaining-pin-rear post-mount-caliper-bolt-m6-rear"},
		{"cable disc", "disc-caliper-front", discBike().at("caliper", discCable).at("brake-lever", cable),
			"post-mount-caliper-bolt-m6-front disc-cable-anchor-m5-front " + "disc-cable-anchor-m5-front"},
		{"cable disc with the larger anchor", "disc-caliper-front", discBike().at("caliper", discCable).at("brake-lever", cable).at("caliper", map[string]string{"anchor_thread": "M6x1"}),
			"post-mount-caliper-bolt-m6-front disc-cable-anchor-m6-front " + "disc-cable-anchor-m6-front"},
		{"recessed nut in metal", "rim-brake-front", rimBike(),
			"rim-caliper-nut-m6-metal-front pad-insert-screw-m3-front caliper-pad-bolt-m5-front brake-cable-anchor-m6-front " + "brake-cable-anchor-m6-front"},
		{"recessed nut in carbon", "rim-brake-rear", rimBike().set("frame", map[string]string{"material": "carbon"}).at("brake-pads", map[string]string{"insert": "moulded"}),
			"rim-caliper-nut-m6-carbon-rear caliper-pad-bolt-m5-rear brake-cable-anchor-m6-rear " + "brake-cable-anchor-m6-rear"},
		{"two posts", "rim-brake-front", rimBike().set("fork", map[string]string{"rim_brake_mount": "two-posts"}).at("caliper", map[string]string{"kind": "two-post", "anchor_thread": "M5x0.8"}),
			"rim-caliper-two-post-bolt-m6-front pad-insert-screw-m3-front caliper-pad-bolt-m5-front brake-cable-anchor-m5-front " + "brake-cable-anchor-m5-front"},
		{"arms on bosses", "rim-brake-rear", rimBike().set("frame", map[string]string{"rim_brake_mount": "bosses"}).at("caliper", map[string]string{"kind": "linear-pull", "pull": "long-pull"}).
			at("brake-lever", map[string]string{"pull": "long-pull"}),
			"brake-boss-pivot-bolt-m6-rear pad-insert-screw-m3-rear linear-pull-pad-nut-m6-rear brake-cable-anchor-m6-rear " + "brake-cable-anchor-m6-rear"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			res, err := load(t).Resolve(tc.job)
			require.NoError(t, err)
			p, err := procedure.NewPlan(res, tc.bike.sheet(), rack(), monday, procedure.Policy{})
			require.NoError(t, err)
			var joints []string
			for _, s := range p.Steps {
				if s.Torque != nil {
					joints = append(joints, s.Torque.Joint)
				}
			}
			require.Equal(t, tc.want, strings.Join(joints, " "))
			for _, f := range p.Findings {
				require.Equal(t, procedure.FindingFromMemory, f.Rule, f)
			}
		})
	}
}

// A cross cable between two arms is another job: this one stops and says so.
func TestRimBrakeJobIsNotForEveryBrake(t *testing.T) {
	res, err := load(t).Resolve("rim-brake-front")
	require.NoError(t, err)
	b := rimBike().set("fork", map[string]string{"rim_brake_mount": "bosses"}).at("caliper", map[string]string{"kind": "cantilever"})
	p, err := procedure.NewPlan(res, b.sheet(), rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	require.Contains(t, blocking(p), procedure.FindingOtherProcedure)
}

// What goes on a caliper bolt hangs on what came on it: compound stays as it
// is, a used bolt gets medium threadlocker. The window is for the new bolt, and
// the plan says so.
func TestPrepOfCaliperBolts(t *testing.T) {
	for _, tc := range []struct {
		bolts string
		want  procedure.Prep
	}{{"new-with-compound", procedure.PreApplied}, {"re-used", procedure.ThreadlockerMedium}} {
		res, err := load(t).Resolve("disc-caliper-rear")
		require.NoError(t, err)
		b := discBike().at("caliper", map[string]string{"bolts": tc.bolts})
		p, err := procedure.NewPlan(res, b.sheet(), rack(), monday, procedure.Policy{})
		require.NoError(t, err)
		s, ok := p.Step("prepare-bolts")
		require.True(t, ok)
		require.Equal(t, tc.want, s.ThreadPrep.Use)
		require.Contains(t, s.ThreadPrep.Never, procedure.Grease)
		differs := slices.ContainsFunc(p.Findings, func(f procedure.PlanFinding) bool { return f.Rule == procedure.FindingPrepDiffers })
		require.Equal(t, tc.want == procedure.ThreadlockerMedium, differs)
	}
}
