package server

import (
	"errors"
	"strings"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// numberRules gives the rules of package joint the names of this API.
var numberRules = map[string]string{"required": "missing", "range": "out-of-range", "known": "unknown-value", "even": "out-of-range", "one": "contradiction"}

// takeNumbers adds what packages joint and wrench say is wrong, each below a path.
// paths has the whole path of each input that lies elsewhere or is called
// otherwise in the API.
func (f *fields) takeNumbers(below string, err error, paths map[string]string) {
	var many interface{ Unwrap() []error }
	var ofJoint *joint.FieldError
	var ofWrench *wrench.FieldError
	at := func(path string) string {
		if whole, ok := paths[path]; ok {
			return whole
		}
		return joinPath(below, path)
	}
	switch {
	case err == nil:
	case errors.As(err, &many):
		for _, one := range many.Unwrap() {
			f.takeNumbers(below, one, paths)
		}
	case errors.As(err, &ofJoint):
		rule := ofJoint.Rule
		if named, ok := numberRules[rule]; ok {
			rule = named
		}
		f.add(at(ofJoint.Path), rule, "%s", ofJoint.Text)
	case errors.As(err, &ofWrench):
		f.add(at(ofWrench.Path), ofWrench.Rule, "%s", ofWrench.Text)
	case errors.Is(err, joint.ErrUnknownFriction):
		path, _, _ := strings.Cut(err.Error(), ":")
		f.add(at(path), "unknown-friction", "friction is unknown and never guessed: give it")
	case errors.Is(err, joint.ErrStrength):
		f.add(at("class"), "no-strength", "%s", err)
	default:
		f.add(below, "malformed", "%s", err)
	}
}

// band reads a figure with its range; absent is the zero Band.
func (f *fields) band(path string, w *pb.Band) joint.Band {
	switch {
	case w == nil:
		return joint.Band{}
	case w.GetLow() == 0 && w.GetHigh() == 0:
		if w.GetNominal() == 0 {
			f.add(path, "out-of-range", "a figure is above 0: leave it out where it is not given")
		}
		return joint.Exactly(w.GetNominal())
	}
	return joint.Band{Low: w.GetLow(), Nominal: w.GetNominal(), High: w.GetHigh()}
}

// friction reads a coefficient; absent is unknown.
func (f *fields) friction(path string, w *pb.Band) joint.Friction {
	if w == nil {
		return joint.Friction{}
	}
	b := f.band(path, w)
	mu, err := joint.NewFrictionBand(b.Low, b.Nominal, b.High)
	if err != nil {
		f.addOnce(path, "out-of-range", "a coefficient of friction is above 0 and at most 1, low and high on either side of it")
	}
	return mu
}

// nutFactor reads a factor K.
func (f *fields) nutFactor(path string, w *pb.Band) joint.NutFactor {
	b := f.band(path, w)
	k, err := joint.NewNutFactorBand(b.Low, b.Nominal, b.High)
	if err != nil {
		f.addOnce(path, "out-of-range", "a nut factor is above 0 and at most 1, low and high on either side of it")
	}
	return k
}

// addOnce adds what is wrong with a field unless the last mistake was its own.
func (f *fields) addOnce(path, rule, text string) {
	if n := len(f.errs); n > 0 && strings.HasPrefix(f.errs[n-1].Error(), path+":") {
		return
	}
	f.add(path, rule, "%s", text)
}

// thread reads a thread.
func (f *fields) thread(path, text string, required bool) joint.Thread {
	if text == "" {
		if required {
			f.add(path, "missing", "this field is required")
		}
		return joint.Thread{}
	}
	t, err := joint.ParseThread(text)
	if err != nil {
		f.add(path, "malformed-thread", "%s", err)
	}
	return t
}

// material reads a material; empty is not known.
func (f *fields) material(path, text string) joint.Material {
	m, err := joint.ParseMaterial(text)
	if err != nil {
		f.add(path, "unknown-word", "%s", err)
	}
	return m
}

// optionalEnum reads an enum of the API that starts one later than the domain's;
// unspecified is the first value.
func optionalEnum[D ~uint8, W ~int32](f *fields, path string, value W, known map[int32]string) D {
	if value == 0 {
		return 0
	}
	return max(1, enumIn[D](f, path, value, known)) - 1 // 0 is what the API does not define
}

// bandToProto leaves a zero band out.
func bandToProto(b joint.Band) *pb.Band {
	if b.IsZero() {
		return nil
	}
	return &pb.Band{Low: b.Low, Nominal: b.Nominal, High: b.High}
}

func assumptionsToProto(s joint.Assumptions) []*pb.Assumption {
	list := s.List()
	out := make([]*pb.Assumption, len(list))
	for i, a := range list {
		out[i] = &pb.Assumption{Id: a.String(), Text: a.Text(), Source: a.Source()}
	}
	return out
}

func warningsToProto(s joint.Warnings) []*pb.JointWarning {
	list := s.List()
	out := make([]*pb.JointWarning, len(list))
	for i, w := range list {
		out[i] = &pb.JointWarning{Id: w.String(), Text: w.Text()}
	}
	return out
}

func standingToProto(s joint.Standing) pb.Standing { return pb.Standing(s) }
