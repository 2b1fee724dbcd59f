package joint

import (
	"errors"
	"fmt"
	"math"
)

// ErrStrength says that a standard states no strength for a class and size.
var ErrStrength = errors.New("no strength stated")

// A Strength holds what a standard asks of a class at one diameter, in MPa.
type Strength struct {
	TensileMPa float64 `json:"tensile_megapascals"` // Rm, minimum
	// YieldMPa is the minimum yield: ReL, Rpf or Rp0.2, whichever the standard
	// states.
	YieldMPa float64 `json:"yield_megapascals"`
	// ProofMPa is Sp of ISO 898-1; 0 where the standard states no proof stress.
	ProofMPa float64 `json:"proof_megapascals,omitempty"`
	// NextTensileMPa is the tensile strength of the next class up, 0 if none.
	NextTensileMPa float64 `json:"next_tensile_megapascals,omitempty"`
	Source         string  `json:"source"`
}

// Strength returns the strength of c at a nominal diameter. Class 8.8 steps at
// 16 mm; stainless 70 and 80 end at 24 mm, beyond which ISO 3506-1 leaves it to
// agreement. Errors wrap [ErrStrength].
func (c Class) Strength(diameterMM float64) (Strength, error) {
	row, ok := c.row(diameterMM)
	if !ok {
		return Strength{}, fmt.Errorf("%w: class %q at %g mm", ErrStrength, c.String(), diameterMM)
	}
	return Strength{row.tensile, row.yield, row.proof, row.next, row.source}, nil
}

func (c Class) row(diameterMM float64) (sizeRow, bool) {
	if c.IsZero() || int(c.number) > len(classes) || !(diameterMM >= smallestClassMM) {
		return sizeRow{}, false
	}
	for _, row := range classes[c.number-1].sizes {
		if diameterMM > row.overMM && diameterMM <= row.upToMM {
			return row, true
		}
	}
	return sizeRow{}, false
}

// NominalStressAreaMM2 returns the stress area as ISO 898-1 prints it, to three
// figures. Proof and tensile loads of the standard rest on it; all other
// calculations here use the area of the formula.
func (t Thread) NominalStressAreaMM2() float64 {
	return threeFigures(t.BasicProfile().StressAreaMM2)
}

func threeFigures(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x < 1:
		return math.Round(x*1000) / 1000
	case x < 10:
		return math.Round(x*100) / 100
	case x < 100:
		return math.Round(x*10) / 10
	case x < 1000:
		return math.Round(x)
	}
	return 10 * math.Round(x/10)
}

// Loads holds the loads of one thread in one class, in newtons.
type Loads struct {
	StressAreaMM2 float64 `json:"stress_area_mm2"` // nominal, three figures
	// ProofNewtons is As·Sp (ISO 898-1, 9.6); 0 where no proof stress is stated.
	ProofNewtons   float64 `json:"proof_load_newtons,omitempty"`
	YieldNewtons   float64 `json:"yield_load_newtons"`   // As·yield
	TensileNewtons float64 `json:"tensile_load_newtons"` // As·Rm
	Source         string  `json:"source"`
}

// Loads returns proof, yield and tensile load of thread t in class c. Errors
// wrap [ErrStrength] or [ErrThreadRange] for "no thread".
func (c Class) Loads(t Thread) (Loads, error) {
	if t.IsZero() {
		return Loads{}, fmt.Errorf("loads of class %s: %w: no thread", c, ErrThreadRange)
	}
	s, err := c.Strength(t.diameter.Float64())
	if err != nil {
		return Loads{}, fmt.Errorf("loads of %s: %w", t, err)
	}
	area := t.NominalStressAreaMM2()
	return Loads{
		area, LoadNewtons(area, s.ProofMPa, 1), LoadNewtons(area, s.YieldMPa, 1),
		LoadNewtons(area, s.TensileMPa, 1), s.Source,
	}, nil
}

// LoadNewtons returns the load at which a share of a stress is reached in an
// area: 0.75 of the proof stress is a usual preload for joints that are undone.
func LoadNewtons(areaMM2, stressMPa, share float64) float64 { return areaMM2 * stressMPa * share }

// NeededAreaMM2 returns the stress area in which a load makes a stress.
func NeededAreaMM2(newtons, stressMPa float64) float64 { return newtons / stressMPa }
