package joint

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// ShortForm is what a torque does to a bolt by the short form T = K·d·F, which
// knows nothing of the head and cannot say where the torque goes. Names and units
// are those of [Tightened]. The band of the preload is that of K.
type ShortForm struct {
	Thread Thread `json:"thread"`
	Class  Class  `json:"class,omitzero"`

	TorqueNewtonMeters float64 `json:"torque_newton_meters"`
	PreloadNewtons     float64 `json:"preload_newtons"`
	PreloadBandNewtons Band    `json:"preload_band_newtons"`
	PreloadFigures     int     `json:"preload_figures"`

	StressAreaMM2   float64 `json:"stress_area_mm2"`
	PitchDiameterMM float64 `json:"pitch_diameter_mm"`
	// ProofLoadNewtons and YieldLoadNewtons are loads in pure tension; 0 where no
	// class is known or its standard states none.
	ProofLoadNewtons float64 `json:"proof_load_newtons,omitempty"`
	YieldLoadNewtons float64 `json:"yield_load_newtons,omitempty"`

	NutFactor   NutFactor   `json:"nut_factor"`
	Assumptions Assumptions `json:"assumptions"`
	Warnings    Warnings    `json:"warnings"`
	Use         Explanation `json:"use"`
}

// AtTorque returns what a torque does to a bolt of a thread and, where it is not
// zero, a class.
//
// Errors: [ErrUnknownFriction], [ErrStrength], [FieldError].
func (k NutFactor) AtTorque(thread Thread, class Class, t torque.Torque) (ShortForm, error) {
	pull, err := k.Preload(thread.diameter.Float64(), t)
	if err != nil {
		return ShortForm{}, err
	}
	return k.shortForm(thread, class, t, pull)
}

// AtPreload returns the torque that gives a preload in newtons at the nominal K,
// and everything else as [NutFactor.AtTorque] does.
//
// Errors: [ErrUnknownFriction], [ErrStrength], [FieldError].
func (k NutFactor) AtPreload(thread Thread, class Class, newtons float64) (ShortForm, error) {
	t, err := k.Torque(thread.diameter.Float64(), newtons)
	if err != nil {
		return ShortForm{}, err
	}
	return k.AtTorque(thread, class, t)
}

func (k NutFactor) shortForm(thread Thread, class Class, t torque.Torque, pull Band) (ShortForm, error) {
	profile := thread.BasicProfile()
	s := ShortForm{
		Thread: thread, Class: class, NutFactor: k,
		TorqueNewtonMeters: t.NewtonMeters(), PreloadNewtons: pull.Nominal, PreloadBandNewtons: pull,
		PreloadFigures: FiguresDeserved(pull),
		StressAreaMM2:  profile.StressAreaMM2, PitchDiameterMM: profile.PitchDiameterMM,
	}
	s.Assumptions = s.Assumptions.with(AssumedTorqueWrenchScatter, !k.HasBand()).with(AssumedExactTool, true)
	s.Warnings = s.Warnings.with(MoreFiguresThanScatter, s.PreloadFigures < 15)
	if class.IsZero() {
		return s, nil
	}
	loads, err := class.Loads(thread)
	if err != nil {
		return ShortForm{}, fmt.Errorf("short form: class: %w", err)
	}
	s.ProofLoadNewtons, s.YieldLoadNewtons = loads.ProofNewtons, loads.YieldNewtons
	s.Warnings = s.Warnings.
		with(OverProof, s.ProofLoadNewtons > 0 && pull.High > s.ProofLoadNewtons).
		with(Yields, pull.Nominal > s.YieldLoadNewtons).
		with(MayYield, pull.Nominal <= s.YieldLoadNewtons && pull.High > s.YieldLoadNewtons)
	return s, nil
}
