package server

import (
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// A pulled message has a bolt whose preload is given or follows from its torque.
type pulled interface {
	GetBoltPreloadNewtons() *pb.Band
	GetBoltTorque() *pb.Torque
	GetBolt() *pb.BoltedJoint
}

// pull reads the preload of a bolt, or works it out from its torque. What is not
// given at all is told by the library.
func (f *fields) pull(path string, w pulled) joint.Band {
	at := func(field string) string { return joinPath(path, field) }
	switch {
	case w.GetBoltTorque() == nil && w.GetBolt() != nil:
		f.add(at("bolt_torque"), "missing", "this field is required with a bolt")
	case w.GetBoltTorque() == nil:
		return f.band(at("bolt_preload_newtons"), w.GetBoltPreloadNewtons())
	case w.GetBoltPreloadNewtons() != nil:
		f.add(at("bolt_torque"), "contradiction", "the preload is given already: leave out one of them")
	case w.GetBolt() == nil:
		f.add(at("bolt"), "missing", "this field is required with a torque")
	default:
		return f.pullAt(path, w.GetBolt(), f.torque(at("bolt_torque"), w.GetBoltTorque()))
	}
	return joint.Band{}
}

// pullAt works out what a torque pulls, by µ or by K.
func (f *fields) pullAt(path string, w *pb.BoltedJoint, t torque.Torque) joint.Band {
	below := joinPath(path, "bolt")
	paths := map[string]string{"thread_friction": below + ".friction", "diameter_mm": below + ".thread",
		"torque_newton_meters": path + ".bolt_torque.newton_meters", "torque": path + ".bolt_torque.newton_meters"}
	before := len(f.errs)
	if w.GetNutFactor() != nil {
		k, thread := f.nutFactor(below+".nut_factor", w.GetNutFactor()), f.thread(below+".thread", w.GetThread(), true)
		if len(f.errs) > before {
			return joint.Band{}
		}
		pull, err := k.Preload(thread.Diameter().Float64(), t)
		f.takeNumbers(below, err, paths)
		return pull
	}
	bolt := f.bolt(below, w)
	if len(f.errs) > before {
		return joint.Band{}
	}
	bolt.Class, bolt.Seat = joint.Class{}, joint.Material{}
	out, err := bolt.AtTorque(t)
	f.takeNumbers(below, err, paths)
	return out.PreloadBandNewtons
}

// A cranked message has a torque at the crank, or a rider who makes it.
type cranked interface {
	GetCrankTorque() *pb.Torque
	GetRider() *pb.Rider
}

// crank reads the torque at the crank, or works it out from the rider.
func (f *fields) crank(path string, w cranked, required bool) torque.Torque {
	at := joinPath(path, "crank_torque")
	rider := w.GetRider()
	switch {
	case rider == nil && w.GetCrankTorque() == nil && required:
		f.add(at, "missing", "this field is required, or a rider")
		return 0
	case rider == nil:
		return f.torque(at, w.GetCrankTorque())
	case w.GetCrankTorque() != nil:
		f.add(at, "contradiction", "a rider is given already: leave out one of them")
		return 0
	}
	length, factor := rider.GetCrankLengthMm(), rider.GetDynamicFactor()
	if length == 0 {
		length = 175
	}
	if factor == 0 {
		factor = 1.5
	}
	t, err := joint.RiderTorque(rider.GetMassKg(), length, factor)
	below := joinPath(path, "rider")
	f.takeNumbers(below, err, map[string]string{"crank_mm": below + ".crank_length_mm"})
	return t
}
