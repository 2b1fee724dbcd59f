package joint

import (
	"math"
	"slices"
)

// A Demand is a load a clamp has to hold without slipping: along the tube, and
// around it.
type Demand struct {
	Name               string  `json:"name,omitempty"`
	AxialNewtons       float64 `json:"axial_newtons,omitempty"`
	TorqueNewtonMeters float64 `json:"torque_newton_meters,omitempty"`
	Source             string  `json:"source,omitempty"`
}

// surfaceNewtons is the pull on the face of a tube by both loads together:
// √(F² + (2M/D)²).
func (d Demand) surfaceNewtons(tubeDiameterMM float64) float64 {
	return math.Hypot(d.AxialNewtons, 2000*d.TorqueNewtonMeters/tubeDiameterMM)
}

func (d Demand) isZero() bool { return d.AxialNewtons == 0 && d.TorqueNewtonMeters == 0 }

func (d Demand) check(in *inputs) {
	in.within("axial_newtons", d.AxialNewtons, 0, largestForceNewtons)
	in.within("demand_newton_meters", d.TorqueNewtonMeters, 0, largestTorque)
}

const (
	fromISO42105 = "ISO 4210-5:2014, as read in an equivalent national standard (2016)"
	fromISO42109 = "ISO 4210-9:2014, as read in an equivalent national standard (2016)"
)

// securityLoads are the loads at which a standard allows no movement. Editions
// differ; the edition is part of the source.
var securityLoads = []Demand{
	{Name: "saddle and seat post, vertical", AxialNewtons: 1000, Source: fromISO42109 + " clause 4.2"},
	{Name: "handlebar in stem, city and trekking", TorqueNewtonMeters: 60, Source: fromISO42105 + " table 4"},
	{Name: "handlebar in stem, racing", TorqueNewtonMeters: 60, Source: fromISO42105 + " table 4"},
	{Name: "handlebar in stem, mountain", TorqueNewtonMeters: 80, Source: fromISO42105 + " table 4"},
	{Name: "stem on steerer, city and trekking", TorqueNewtonMeters: 40, Source: fromISO42105 + " table 5"},
	{Name: "stem on steerer, young adult", TorqueNewtonMeters: 40, Source: fromISO42105 + " table 5"},
	{Name: "stem on steerer, mountain", TorqueNewtonMeters: 50, Source: fromISO42105 + " table 5"},
}

// SecurityLoads returns the loads of standards for clamps on bicycles, as a list
// of the caller's own.
func SecurityLoads() []Demand { return slices.Clone(securityLoads) }
