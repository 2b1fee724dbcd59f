package main

import (
	"fmt"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// workNutFactor answers joint by the short form, which knows nothing of the head.
func workNutFactor(r *reading) (answer, error) {
	for _, name := range []string{"head-friction", "utilization", "head", "head-bearing-diameter", "hole-diameter",
		"cone-angle", "seat", "tool-deviation", "torsion"} {
		if r.has(name) {
			r.faults.add(name, reasonBadOption, "it does not go with a nut factor: give friction instead, or leave it out")
		}
	}
	if !r.has("torque") && !r.has("preload") {
		r.faults.add("torque", torque.ReasonMissingValue, "give a torque or a preload to work from")
	}
	k := r.nutFactor("nut-factor")
	out := shortAnswer{Thread: r.thread("thread"), Class: r.class("class"), NutFactor: k}
	tq, newtons := r.torque("torque", r.unit("unit")), r.positive("preload")
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	var err error
	diameter := out.Thread.Diameter().Float64()
	if r.has("preload") {
		tq, err = k.Torque(diameter, newtons)
		r.faults.take(err, jointFlags)
	}
	if err == nil {
		out.PreloadBandNewtons, err = k.Preload(diameter, tq)
		r.faults.take(err, jointFlags)
	}
	if err == nil {
		err = out.fill(tq)
		r.faults.take(err, jointFlags)
	}
	return out, r.faults.err()
}

// shortAnswer is the answer of joint by the short form T = K·d·F. Its names are
// those of [joint.Tightened].
type shortAnswer struct {
	Thread             joint.Thread      `json:"thread"`
	Class              joint.Class       `json:"class,omitzero"`
	TorqueNewtonMeters float64           `json:"torque_newton_meters"`
	PreloadNewtons     float64           `json:"preload_newtons"`
	PreloadBandNewtons joint.Band        `json:"preload_band_newtons"`
	PreloadFigures     int               `json:"preload_figures"`
	StressAreaMM2      float64           `json:"stress_area_mm2"`
	PitchDiameterMM    float64           `json:"pitch_diameter_mm"`
	ProofLoadNewtons   float64           `json:"proof_load_newtons,omitempty"`
	YieldLoadNewtons   float64           `json:"yield_load_newtons,omitempty"`
	NutFactor          joint.NutFactor   `json:"nut_factor"`
	Use                joint.Explanation `json:"use"`
}

func (a *shortAnswer) fill(t torque.Torque) error {
	profile := a.Thread.BasicProfile()
	a.TorqueNewtonMeters = t.NewtonMeters()
	a.PreloadNewtons = a.PreloadBandNewtons.Nominal
	a.PreloadFigures = joint.FiguresDeserved(a.PreloadBandNewtons)
	a.StressAreaMM2, a.PitchDiameterMM = profile.StressAreaMM2, profile.PitchDiameterMM
	if a.Class.IsZero() {
		return nil
	}
	loads, err := a.Class.Loads(a.Thread)
	if err != nil {
		return fmt.Errorf("class: %w", err)
	}
	a.ProofLoadNewtons, a.YieldLoadNewtons = loads.ProofNewtons, loads.YieldNewtons
	return nil
}

func (a shortAnswer) object() any { return a }

func (a shortAnswer) drawing() ([]byte, error) { //nolint:unparam // a drawable that says why there is no drawing
	return nil, wrong(reasonBadOption, "svg: a nut factor does not tell where the torque goes: give friction for a drawing")
}

func (a shortAnswer) words() string {
	var p page
	p.row("bolt", boltWords(a.Thread, a.Class))
	p.row("torque", rounded(a.TorqueNewtonMeters, 3)+" N·m")
	p.row("preload", force(a.PreloadBandNewtons)+" by the short form, K "+muOrK(a.NutFactor.K()))
	if !a.NutFactor.HasBand() {
		assumed := joint.AssumedTorqueWrenchScatter
		p.row("assumed", assumed.Text()+" ("+assumed.Source()+")")
	}
	if a.ProofLoadNewtons > 0 {
		p.row("proof load", plainForce(a.ProofLoadNewtons))
	}
	if a.YieldLoadNewtons > 0 {
		p.row("yield", plainForce(a.YieldLoadNewtons)+" in pure tension; the twist of tightening comes on top")
	}
	p.row("use", joint.ExplanationText)
	return p.String()
}
