package joint

// A ClampGrip is what a clamp holds. Bands are corners: every input at the end
// that holds least, or most; verdicts look at the whole band.
type ClampGrip struct {
	// CrossForceNewtons is η·F_t, the force across the tube.
	CrossForceNewtons Band `json:"cross_force_newtons"`
	// NormalForceNewtons is the sum of the normal forces around the tube.
	NormalForceNewtons Band `json:"normal_force_newtons"`
	ContactFriction    Band `json:"contact_friction"`

	AxialSlipNewtons          Band `json:"axial_slip_newtons"`           // along the tube
	TorsionalSlipNewtonMeters Band `json:"torsional_slip_newton_meters"` // around it

	// MeanPressureMPa is the force across the tube over diameter and length;
	// PeakPressureMPa is two to four times that, at the slot and the edges.
	MeanPressureMPa Band `json:"mean_pressure_megapascals"`
	PeakPressureMPa Band `json:"peak_pressure_megapascals"`
	// HoopStressMPa and PeakHoopStressMPa are the compressive stresses p·r/t in a
	// thin tube under these pressures; zero without a wall.
	HoopStressMPa     Band `json:"hoop_stress_megapascals,omitzero"`
	PeakHoopStressMPa Band `json:"peak_hoop_stress_megapascals,omitzero"`

	Demand         Demand   `json:"demand,omitzero"`
	DemandOverGrip Band     `json:"demand_over_grip,omitzero"` // 1 and more slips
	Standing       Standing `json:"standing,omitzero"`         // of the grip against the demand
	Verdict        string   `json:"verdict,omitempty"`

	// OneLoose is the grip with one bolt loose.
	OneLoose LooseGrip `json:"one_bolt_loose"`

	Assumptions Assumptions `json:"assumptions"`
	Warnings    Warnings    `json:"warnings"`
	Use         Explanation `json:"use"`
}

// A LooseGrip is what is left of a grip with one bolt loose.
type LooseGrip struct {
	AxialSlipNewtons          Band     `json:"axial_slip_newtons"`
	TorsionalSlipNewtonMeters Band     `json:"torsional_slip_newton_meters"`
	Standing                  Standing `json:"standing,omitzero"`
	Verdict                   string   `json:"verdict,omitempty"`
}

// Grip works out what the clamp holds.
//
// Errors: [ErrUnknownFriction], [FieldError].
func (c Clamp) Grip() (ClampGrip, error) {
	c, assumed := c.filled()
	if err := c.check(); err != nil {
		return ClampGrip{}, err
	}
	across := float64(c.Bolts)
	if c.Style == SingleSlit {
		across *= 2
	}
	g := ClampGrip{Assumptions: assumed, Demand: c.Demand, ContactFriction: c.ContactFriction.mu}
	g.CrossForceNewtons = c.BoltPreloadNewtons.Times(across).product(c.Efficiency)
	g.NormalForceNewtons = g.CrossForceNewtons.product(c.PressureShape)
	g.AxialSlipNewtons = g.NormalForceNewtons.product(c.ContactFriction.mu)
	g.TorsionalSlipNewtonMeters = g.AxialSlipNewtons.Times(c.TubeDiameterMM / 2000)
	g.MeanPressureMPa = g.CrossForceNewtons.Times(1 / (c.TubeDiameterMM * c.LengthMM))
	g.PeakPressureMPa = g.MeanPressureMPa.product(pressurePeaks)
	if c.TubeWallMM > 0 {
		hoop := c.TubeDiameterMM / (2 * c.TubeWallMM)
		g.HoopStressMPa, g.PeakHoopStressMPa = g.MeanPressureMPa.Times(hoop), g.PeakPressureMPa.Times(hoop)
	}
	share := c.looseShare()
	g.OneLoose.AxialSlipNewtons = g.AxialSlipNewtons.product(share)
	g.OneLoose.TorsionalSlipNewtonMeters = g.TorsionalSlipNewtonMeters.product(share)
	g.judge(c)
	// A thin tube: wall under a tenth of the diameter, the usual bound of p·r/t.
	g.Warnings = g.Warnings.with(MayOpen, share.Low == 0).
		with(MayCrushTube, c.TubeWallMM > 0 && c.TubeWallMM < c.TubeDiameterMM/10)
	return g, nil
}

// looseShare is the share of the grip left with one bolt loose: that of the
// other bolts. On a two-piece clamp the sides must balance, so at worst the
// opposite bolt counts for nothing either.
func (c Clamp) looseShare() Band {
	n := float64(c.Bolts)
	left := (n - 1) / n
	low := left
	if c.Style == TwoPiece {
		low = (n - 2) / n
	}
	return Band{low, left, left}
}

func (g *ClampGrip) judge(c Clamp) {
	if c.Demand.isZero() {
		return
	}
	pull := c.Demand.surfaceNewtons(c.TubeDiameterMM)
	g.DemandOverGrip = Exactly(pull).quotient(g.AxialSlipNewtons)
	g.Standing = g.AxialSlipNewtons.Against(pull)
	g.Verdict = gripVerdict(g.Standing)
	g.OneLoose.Standing = g.OneLoose.AxialSlipNewtons.Against(pull)
	g.OneLoose.Verdict = gripVerdict(g.OneLoose.Standing)
}

func gripVerdict(s Standing) string {
	switch s {
	case Above:
		return "holds over the whole band"
	case AboveAtNominal:
		return "holds at nominal, not at the low end"
	case BelowAtNominal:
		return "slips at nominal, may hold at the high end"
	case Below:
		return "slips over the whole band"
	default:
		return ""
	}
}

// A PasteEffect compares a fiber tube clamped dry and with friction paste.
type PasteEffect struct {
	Without ClampGrip `json:"without_paste"`
	With    ClampGrip `json:"with_paste"`
	// EqualHoldShare is the share of the bolt force that holds with paste what
	// the whole holds without.
	EqualHoldShare Band        `json:"equal_hold_share"`
	Use            Explanation `json:"use"`
}

// Paste compares the clamp dry and with friction paste on a fiber tube, whatever
// its own contact is. It is no leave to tighten less than the maker prints.
//
// Errors: [FieldError].
func (c Clamp) Paste() (PasteEffect, error) {
	c.ContactFriction = Friction{}
	var effect PasteEffect
	var err error
	c.Contact = CarbonDry
	if effect.Without, err = c.Grip(); err != nil {
		return PasteEffect{}, err
	}
	c.Contact = CarbonPaste
	if effect.With, err = c.Grip(); err != nil {
		return PasteEffect{}, err
	}
	effect.EqualHoldShare = effect.Without.ContactFriction.quotient(effect.With.ContactFriction)
	return effect, nil
}
