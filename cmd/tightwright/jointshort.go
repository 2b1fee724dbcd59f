package main

import (
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// workNutFactor answers joint by the short form, which knows nothing of the head.
func workNutFactor(r *reading) (answer, error) {
	for _, name := range []string{"head-friction", "utilization", "head", "head-bearing-diameter", "hole-diameter",
		"cone-angle", "seat", "tool-deviation", "torsion", "engagement", "part-strength", "fit"} {
		if r.has(name) {
			r.faults.add(name, reasonBadOption, "it does not go with a nut factor: give friction instead, or leave it out")
		}
	}
	if !r.has("torque") && !r.has("preload") {
		r.faults.add("torque", torque.ReasonMissingValue, "give a torque or a preload to work from")
	}
	k, thread, class := r.nutFactor("nut-factor"), r.thread("thread"), r.class("class")
	tq, newtons := r.torque("torque", r.unit("unit")), r.positive("preload")
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	var out joint.ShortForm
	var err error
	if r.has("preload") {
		out, err = k.AtPreload(thread, class, newtons)
	} else {
		out, err = k.AtTorque(thread, class, tq)
	}
	r.faults.take(err, jointFlags)
	return shortAnswer{out}, r.faults.err()
}

// shortAnswer is the answer of joint by the short form T = K·d·F.
type shortAnswer struct{ joint.ShortForm }

func (a shortAnswer) object() any { return a.ShortForm }

func (a shortAnswer) drawing() ([]byte, error) { //nolint:unparam // a drawable that says why there is no drawing
	return nil, wrong(reasonBadOption, "svg: a nut factor does not tell where the torque goes: give friction for a drawing")
}

func (a shortAnswer) words() string {
	var p page
	p.row("bolt", boltWords(a.Thread, a.Class))
	p.row("torque", rounded(a.TorqueNewtonMeters, 3)+" N·m")
	p.row("preload", force(a.PreloadBandNewtons)+" by the short form, K "+muOrK(a.NutFactor.K()))
	if a.ProofLoadNewtons > 0 {
		p.row("proof load", plainForce(a.ProofLoadNewtons))
	}
	if a.YieldLoadNewtons > 0 {
		p.row("yield", plainForce(a.YieldLoadNewtons)+" in pure tension; the twist of tightening comes on top")
	}
	p.rests(a.Assumptions, a.Warnings)
	return p.String()
}
