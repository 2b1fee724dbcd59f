package joint

import (
	"errors"
	"fmt"

	"github.com/tightwright/tightwright/torque"
)

// A PrepQuestion asks what becomes of a torque when the thread is prepared
// otherwise than the figure means. Bolt needs its thread; its frictions are not
// read, they follow from Surface and prep.
type PrepQuestion struct {
	Bolt    Bolt
	Surface Surface
	Stated  Prep          // the prep the torque was stated for
	Torque  torque.Torque // as stated
	// Known, where given, are the caller's own figures and come before those of
	// [ConditionsOf]. Each has a prep and either a friction or a nut factor.
	Known []Condition
}

// A PrepRow says what the stated torque does with one prep. Bands are corners:
// one friction at its low end, the other at its high end.
type PrepRow struct {
	Condition
	// PreloadBandNewtons is the preload at the stated torque.
	PreloadBandNewtons Band `json:"preload_band_newtons"`
	// PreloadRatio is that preload over the one the figure meant.
	PreloadRatio Band `json:"preload_ratio"`
	// EqualTorqueNewtonMeters is the torque that would give the meant preload.
	EqualTorqueNewtonMeters Band `json:"equal_torque_newton_meters"`
	// TensionOverYield is the tension alone, without twist, over the yield; zero
	// where no class is known.
	TensionOverYield Band `json:"tension_over_yield,omitzero"`
}

// A PrepGap is a prep for which nothing can be said, and why.
type PrepGap struct {
	Prep Prep   `json:"prep"`
	Why  string `json:"why"`
}

// A PrepComparison holds the stated prep first, then every other prep whose
// friction is known, and those it is not known for. It explains why prep is part
// of a torque figure; it converts no figure for use.
type PrepComparison struct {
	Thread             Thread      `json:"thread"`
	Surface            Surface     `json:"surface"`
	Stated             Prep        `json:"stated_prep"`
	TorqueNewtonMeters float64     `json:"torque_newton_meters"`
	Rows               []PrepRow   `json:"rows"`
	Unknown            []PrepGap   `json:"unknown"`
	Assumptions        Assumptions `json:"assumptions"`
	Warnings           Warnings    `json:"warnings"`
	Use                Explanation `json:"use"`
}

// Compare answers q. It refuses with [ErrUnknownFriction] when the friction of
// the stated prep is not known: without it nothing can be compared.
//
// Errors: [ErrUnknownFriction], [ErrStrength], [FieldError].
func (q PrepQuestion) Compare() (PrepComparison, error) {
	const operation = "what prep changes"
	in := inputs{}
	in.above("torque_newton_meters", q.Torque.NewtonMeters(), largestTorque)
	if q.Bolt.Thread.IsZero() {
		in.add("thread", "required", "must be given")
	}
	stated, err := q.conditions(q.Stated)
	in.keep(err)
	if err := in.err(operation); err != nil {
		return PrepComparison{}, err
	}
	c := PrepComparison{
		Thread: q.Bolt.Thread, Surface: q.Surface, Stated: q.Stated,
		TorqueNewtonMeters: q.Torque.NewtonMeters(),
		Unknown:            []PrepGap{},
		Assumptions:        Assumptions(0).with(AssumedExactTool, true),
		Warnings:           Warnings(0).with(MoreFiguresThanScatter, true),
	}
	err = c.add(q, stated[0], stated[0])
	for p := Dry; p < prepCount && err == nil; p++ {
		if p != q.Stated {
			err = c.addOther(q, stated, p)
		}
	}
	if err != nil {
		return PrepComparison{}, fmt.Errorf("%s: %w", operation, err)
	}
	return c, nil
}

// addOther adds a row or a gap for a prep other than the stated one. Two preps
// are compared by two coefficients or by two nut factors.
func (c *PrepComparison) addOther(q PrepQuestion, stated []Condition, p Prep) error {
	others, err := q.conditions(p)
	if errors.Is(err, ErrUnknownFriction) {
		c.Unknown = append(c.Unknown, PrepGap{p, err.Error()})
		return nil
	}
	if err != nil {
		return err
	}
	for _, meant := range stated {
		for _, other := range others {
			if meant.Friction.IsKnown() == other.Friction.IsKnown() {
				return c.add(q, meant, other)
			}
		}
	}
	c.Unknown = append(c.Unknown, PrepGap{p, "one prep is known by a coefficient of friction, the other by a nut factor: the two do not compare"})
	return nil
}

// conditions returns the caller's own figure for a prep, or those of the tables.
func (q PrepQuestion) conditions(p Prep) ([]Condition, error) {
	for _, known := range q.Known {
		if known.Prep != p || p == PrepUnknown {
			continue
		}
		if known.Friction.IsKnown() == known.NutFactor.IsKnown() {
			return nil, &FieldError{"known", "one", p.String() + ": give either a friction or a nut factor"}
		}
		known.Confidence = GivenByCaller
		return []Condition{known}, nil
	}
	return ConditionsOf(q.Surface, p)
}

// torqueOverPreload returns T/F in millimeters with its band: by the long form
// from µ, by the short form from K. Neither is ever turned into the other.
func (c *PrepComparison) torqueOverPreload(b Bolt, cond Condition) (Band, error) {
	if !cond.Friction.IsKnown() {
		return cond.NutFactor.k.Times(b.Thread.diameter.Float64()), nil
	}
	b.ThreadFriction, b.HeadFriction = cond.Friction, cond.Friction
	s, err := b.setup("joint")
	if err != nil {
		return Band{}, err
	}
	c.Assumptions |= s.assumed &^ (1 << AssumedTorqueWrenchScatter)
	m := cond.Friction.mu
	return Band{
		s.torqueOverPreloadMM(m.Low, m.Low),
		s.torqueOverPreloadMM(m.Nominal, m.Nominal),
		s.torqueOverPreloadMM(m.High, m.High),
	}, nil
}

// add adds the row of a condition beside the one the figure was meant for.
func (c *PrepComparison) add(q PrepQuestion, meantCondition, cond Condition) error {
	meant, err := c.torqueOverPreload(q.Bolt, meantCondition)
	if err != nil {
		return err
	}
	over, err := c.torqueOverPreload(q.Bolt, cond)
	if err != nil {
		return err
	}
	row := PrepRow{
		Condition:               cond,
		PreloadBandNewtons:      Exactly(1000 * c.TorqueNewtonMeters).quotient(over),
		PreloadRatio:            meant.quotient(over),
		EqualTorqueNewtonMeters: over.quotient(meant).Times(c.TorqueNewtonMeters),
	}
	if cond.Prep == q.Stated { // the same friction on both sides, whatever it is
		row.PreloadRatio, row.EqualTorqueNewtonMeters = Exactly(1), Exactly(c.TorqueNewtonMeters)
	}
	if err := c.load(q.Bolt, &row); err != nil {
		return err
	}
	c.Rows = append(c.Rows, row)
	return nil
}

// load compares the tension of a row with the yield, where a class is known.
func (c *PrepComparison) load(b Bolt, row *PrepRow) error {
	if b.Class.IsZero() {
		return nil
	}
	strength, err := b.Class.Strength(b.Thread.diameter.Float64())
	if err != nil {
		return fmt.Errorf("class: %w", err)
	}
	yield := b.Thread.BasicProfile().StressAreaMM2 * strength.YieldMPa
	row.TensionOverYield = row.PreloadBandNewtons.Times(1 / yield)
	c.Warnings = c.Warnings.with(Yields, row.TensionOverYield.Nominal > 1).
		with(MayYield, row.TensionOverYield.High > 1)
	return nil
}
