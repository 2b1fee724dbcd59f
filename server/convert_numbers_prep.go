package server

import (
	"errors"
	"fmt"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// prepPaths has the inputs of a prep question that lie elsewhere in the request.
var prepPaths = map[string]string{"torque_newton_meters": "torque.newton_meters", "diameter_mm": "bolt.thread", "known": "own"}

// prepQuestion reads a torque figure and the prep it means.
func (f *fields) prepQuestion(req *pb.PrepRequest) joint.PrepQuestion {
	w := req.GetBolt()
	if req.GetTorque() == nil {
		f.add("torque", "missing", "this field is required")
	}
	q := joint.PrepQuestion{
		Stated: f.threadPrep("stated", req.GetStated()),
		Torque: f.torque("torque", req.GetTorque()),
		Bolt:   joint.Bolt{Thread: f.thread("bolt.thread", w.GetThread(), true), Class: f.strengthClass("bolt.class", w.GetClass())},
	}
	q.Bolt.Bearing = f.bearing("bolt", w, q.Bolt.Thread)
	own := map[joint.Prep]bool{}
	for i, k := range req.GetOwn() {
		at := fmt.Sprintf("own[%d]", i)
		c := f.prepFriction(at, k)
		if own[c.Prep] && c.Prep != joint.PrepUnknown {
			f.add(at+".prep", "contradiction", "this prep is given twice")
		}
		own[c.Prep] = true
		q.Known = append(q.Known, c)
	}
	switch {
	case req.GetSurface() != pb.ThreadSurface_THREAD_SURFACE_UNSPECIFIED:
		q.Surface = enumIn[joint.Surface](f, "surface", req.GetSurface(), pb.ThreadSurface_name)
	case !own[q.Stated]:
		f.add("surface", "missing", "this field is required, unless the friction of the stated prep is given")
	}
	return q
}

func (f *fields) threadPrep(path string, v pb.ThreadPrep) joint.Prep {
	return enumIn[joint.Prep](f, path, v, pb.ThreadPrep_name)
}

// prepFriction reads a figure of the caller's own: µ or K.
func (f *fields) prepFriction(path string, w *pb.PrepFriction) joint.Condition {
	c := joint.Condition{Prep: f.threadPrep(joinPath(path, "prep"), w.GetPrep())}
	switch {
	case w.GetFriction() != nil:
		c.Friction = f.friction(joinPath(path, "friction"), w.GetFriction())
	case w.GetNutFactor() != nil:
		c.NutFactor = f.nutFactor(joinPath(path, "nut_factor"), w.GetNutFactor())
	default:
		f.add(joinPath(path, "friction"), "unknown-friction", "friction is never guessed: give it, or a nut factor")
	}
	return c
}

// takePrep adds what is wrong with a prep question. Whether friction is known is
// told by the surface.
func (f *fields) takePrep(err error) {
	if errors.Is(err, joint.ErrUnknownFriction) {
		f.add("surface", "unknown-friction", "%s", err)
		return
	}
	f.takeNumbers("bolt", err, prepPaths)
}

func prepComparisonToProto(c joint.PrepComparison) *pb.PrepComparison {
	return &pb.PrepComparison{
		Rows: each(c.Rows, prepRowToProto),
		Unknown: each(c.Unknown, func(g joint.PrepGap) *pb.PrepGap {
			return &pb.PrepGap{Prep: pb.ThreadPrep(g.Prep), Why: g.Why}
		}),
		Assumptions: assumptionsToProto(c.Assumptions), Warnings: warningsToProto(c.Warnings), Use: c.Use.String(),
	}
}

func prepRowToProto(r joint.PrepRow) *pb.PrepRow {
	known := &pb.PrepFriction{Prep: pb.ThreadPrep(r.Prep), Confidence: r.Confidence, Source: r.Source}
	if r.Friction.IsKnown() {
		known.FrictionAs = &pb.PrepFriction_Friction{Friction: bandToProto(r.Friction.Mu())}
	} else {
		known.FrictionAs = &pb.PrepFriction_NutFactor{NutFactor: bandToProto(r.NutFactor.K())}
	}
	return &pb.PrepRow{
		Prep: known, PreloadNewtons: bandToProto(r.PreloadBandNewtons), PreloadRatio: bandToProto(r.PreloadRatio),
		EqualTorqueNewtonMeters: bandToProto(r.EqualTorqueNewtonMeters), TensionOverYield: bandToProto(r.TensionOverYield),
	}
}
