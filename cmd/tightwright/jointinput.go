package main

import (
	"math"
	"strconv"
	"strings"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// A reading reads the inputs of a calculation and gathers what is wrong with
// them, so that a person sees all mistakes at once. A name that was not given
// reads as zero.
type reading struct {
	in     inputs
	faults faults
}

func newReading(in inputs) *reading { return &reading{in: in} }

// text returns what was given under a name, without spaces around it.
func (r *reading) text(name string) string { return strings.TrimSpace(r.in[name]) }

func (r *reading) has(name string) bool { return r.text(name) != "" }

// require notes names that were not given.
func (r *reading) require(names ...string) {
	for _, name := range names {
		if !r.has(name) {
			r.faults.add(name, torque.ReasonMissingValue, "this has to be given")
		}
	}
}

// exclude notes names of which only one can be given.
func (r *reading) exclude(names ...string) {
	var given []string
	for _, name := range names {
		if r.has(name) {
			given = append(given, name)
		}
	}
	if len(given) > 1 {
		r.faults.add(given[1], reasonBadOption, "it is given together with %s: give one of them", given[0])
	}
}

// number reads a plain decimal.
func (r *reading) number(name string) float64 {
	return r.decimal(name, r.text(name))
}

func (r *reading) decimal(name, text string) float64 {
	if text == "" {
		return 0
	}
	figure, err := torque.ParseFigure(text, torque.NewtonMeters) // the unit does not matter
	if err != nil {
		reason, mend := notDecimal(text)
		r.faults.add(name, reason, "%q is no plain decimal: %s", clipped(text), mend)
		return 0
	}
	value, _ := figure.Rat().Float64()
	return value
}

// positive is number for what stands for "not given" when it is zero: a zero
// that was written is refused, and so is less.
func (r *reading) positive(name string) float64 {
	value := r.number(name)
	if r.has(name) && value <= 0 && !r.faults.has(name) {
		r.faults.add(name, torque.ReasonOutOfRange, "%s is not above 0", r.text(name))
	}
	return value
}

// count reads a whole number.
func (r *reading) count(name string) int {
	text := r.text(name)
	if text == "" {
		return 0
	}
	value, err := strconv.Atoi(text)
	if err != nil {
		r.faults.add(name, torque.ReasonNotANumber, "%q is no whole number", clipped(text))
	}
	return value
}

// percent reads a share that is given in percent.
func (r *reading) percent(name string) float64 { return r.number(name) / 100 }

// radians reads an angle that is given in degrees.
func (r *reading) radians(name string) float64 { return r.number(name) * math.Pi / 180 }

// band reads a figure, or a figure with the range it lies in as low:figure:high.
func (r *reading) band(name string) joint.Band {
	text := r.text(name)
	if text == "" {
		return joint.Band{}
	}
	parts := strings.Split(text, ":")
	if len(parts) != 1 && len(parts) != 3 {
		r.faults.add(name, torque.ReasonMalformed, "%q: write a figure such as 0.12, or low:figure:high such as 0.10:0.12:0.16", clipped(text))
		return joint.Band{}
	}
	values := [3]float64{}
	for i, part := range parts {
		if part = strings.TrimSpace(part); part == "" {
			r.faults.add(name, torque.ReasonMissingValue, "%q lacks a figure beside a colon", clipped(text))
			return joint.Band{}
		}
		values[i] = r.decimal(name, part)
	}
	b := joint.Band{Low: values[0], Nominal: values[1], High: values[2]}
	if len(parts) == 1 {
		b = joint.Exactly(values[0])
	}
	if b.IsZero() && !r.faults.has(name) { // zero would stand for "not given"
		r.faults.add(name, torque.ReasonOutOfRange, "%s is not above 0", text)
	}
	return b
}

// friction reads a coefficient µ.
func (r *reading) friction(name string) joint.Friction {
	b := r.band(name)
	if b.IsZero() {
		return joint.Friction{}
	}
	f, err := joint.NewFrictionBand(b.Low, b.Nominal, b.High)
	if err != nil && !r.faults.has(name) {
		r.faults.add(name, torque.ReasonOutOfRange, "%s: a coefficient of friction is above 0 and at most 1, low and high on either side of it", r.text(name))
	}
	return f
}

// nutFactor reads a factor K.
func (r *reading) nutFactor(name string) joint.NutFactor {
	b := r.band(name)
	if b.IsZero() {
		return joint.NutFactor{}
	}
	k, err := joint.NewNutFactorBand(b.Low, b.Nominal, b.High)
	if err != nil && !r.faults.has(name) {
		r.faults.add(name, torque.ReasonOutOfRange, "%s: a nut factor is above 0 and at most 1, low and high on either side of it", r.text(name))
	}
	return k
}

// unit reads the unit of torques, N·m where none is given.
func (r *reading) unit(name string) torque.Unit {
	if !r.has(name) {
		return torque.NewtonMeters
	}
	unit, err := torque.ParseUnit(r.text(name))
	if err != nil {
		r.faults.add(name, torque.ReasonUnknownUnit, "%s", err)
	}
	return unit
}

// torque reads a torque in a unit.
func (r *reading) torque(name string, unit torque.Unit) torque.Torque {
	if !r.has(name) {
		return 0
	}
	figure, err := torque.ParseFigure(r.text(name), unit)
	if err != nil {
		reason, mend := notDecimal(r.text(name))
		r.faults.add(name, reason, "%q is no plain decimal: %s", clipped(r.text(name)), mend)
		return 0
	}
	t, err := figure.Torque()
	if err != nil {
		r.faults.add(name, torque.ReasonOutOfRange, "%s", err)
	}
	return t
}

// thread reads a thread.
func (r *reading) thread(name string) joint.Thread {
	if !r.has(name) {
		return joint.Thread{}
	}
	t, err := joint.ParseThread(r.text(name))
	r.faults.takeAs(name, reasonNoThread, err)
	return t
}

// class reads a strength class; none is "not known".
func (r *reading) class(name string) joint.Class {
	c, err := joint.ParseClass(r.text(name))
	r.faults.takeAs(name, reasonUnknownWord, err)
	return c
}

// material reads a material; none is "not known".
func (r *reading) material(name string) joint.Material {
	m, err := joint.ParseMaterial(r.text(name))
	r.faults.takeAs(name, reasonUnknownWord, err)
	return m
}

// word reads one of some words, which may be written with spaces or hyphens; none
// is the first.
func word[T ~uint8](r *reading, name string, words ...string) T {
	if !r.has(name) {
		return 0
	}
	plain := strings.NewReplacer(",", "", " ", "-")
	for i, one := range words {
		if plain.Replace(strings.ToLower(r.text(name))) == plain.Replace(strings.ToLower(one)) {
			return T(i)
		}
	}
	r.faults.add(name, reasonUnknownWord, "%q: write one of %s", clipped(r.text(name)), choices(words))
	return 0
}

// choices lists words, in quotes where one has a comma of its own.
func choices(words []string) string {
	for _, one := range words {
		if strings.Contains(one, ",") {
			return quoted(words)
		}
	}
	return strings.Join(words, ", ")
}
