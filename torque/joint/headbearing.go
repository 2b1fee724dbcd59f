package joint

import "math"

// A Bearing is the ring on which a head or nut turns.
type Bearing struct {
	OuterDiameterMM float64 // d_w, outer diameter of the contact
	HoleDiameterMM  float64 // d_h, of the clearance hole, chamfer included
	// ConeHalfAngleRad is half the cone angle of a countersunk seat (π/4 for
	// 90°), above 0 and at most π/2; 0 means flat. A cone wedges: the head term
	// of the torque is divided by its sine.
	ConeHalfAngleRad float64
}

// MeanDiameterMM returns D_Km = (d_w + d_h)/2, VDI 2230 equation for an annular
// face.
func (b Bearing) MeanDiameterMM() float64 { return (b.OuterDiameterMM + b.HoleDiameterMM) / 2 }

// AreaMM2 returns the area of the contact ring projected along the bolt.
func (b Bearing) AreaMM2() float64 {
	return math.Pi / 4 * (b.OuterDiameterMM*b.OuterDiameterMM - b.HoleDiameterMM*b.HoleDiameterMM)
}

// armMM is the arm of the head's friction: torque over preload and µ_K.
func (b Bearing) armMM() float64 {
	arm := b.MeanDiameterMM() / 2
	if b.ConeHalfAngleRad > 0 {
		arm /= math.Sin(b.ConeHalfAngleRad)
	}
	return arm
}

func (b Bearing) check(in *inputs) {
	in.above("head_bearing_diameter_mm", b.OuterDiameterMM, largestDiameterMM)
	in.within("hole_diameter_mm", b.HoleDiameterMM, 0, largestDiameterMM)
	in.within("cone_half_angle_rad", b.ConeHalfAngleRad, 0, math.Pi/2)
	if b.HoleDiameterMM >= b.OuterDiameterMM {
		in.add("hole_diameter_mm", "range", "the hole is as large as the head")
	}
}

// heads lists bearing geometry by nominal diameter, in millimeters.
//
// hexagon: smallest washer face d_w of ISO 4014, product grade A up to M24,
// B above. M3 to M24 reproduce the published tables of VDI 2230; the others are
// from memory. M7 is not in ISO 4014 and follows the quoted tables.
// socket: smallest bearing diameter d_w of ISO 4762, from memory.
// hole: clearance hole of ISO 273, medium series.
var heads = [...]struct{ d, hexagon, socket, hole float64 }{
	{1.6, 2.27, 2.72, 1.8}, {2, 3.07, 3.48, 2.4}, {2.5, 4.07, 4.18, 2.9},
	{3, 4.57, 5.07, 3.4}, {4, 5.88, 6.53, 4.5}, {5, 6.88, 8.03, 5.5},
	{6, 8.88, 9.38, 6.6}, {7, 9.63, 0, 7.6}, {8, 11.63, 12.33, 9},
	{10, 14.63, 15.33, 11}, {12, 16.63, 17.23, 13.5}, {14, 19.64, 20.17, 15.5},
	{16, 22.49, 23.17, 17.5}, {18, 25.34, 0, 20}, {20, 28.19, 28.87, 22},
	{22, 31.71, 0, 24}, {24, 33.61, 34.81, 26}, {27, 38, 0, 30},
	{30, 42.75, 43.61, 33}, {33, 46.55, 0, 36}, {36, 51.11, 52.54, 39}, {39, 55.86, 0, 42},
}

// HexagonHead returns the bearing of a hexagon head (ISO 4014, smallest washer
// face) on a clearance hole of the medium series (ISO 273). It is the geometry
// behind the preload tables of VDI 2230. It reports false for a size the
// standards do not list.
func HexagonHead(t Thread) (Bearing, bool) {
	d := t.diameter.Float64()
	for _, h := range &heads {
		if h.d == d {
			return Bearing{OuterDiameterMM: h.hexagon, HoleDiameterMM: h.hole}, true
		}
	}
	return Bearing{}, false
}

// SocketHead returns the bearing of a socket head cap screw (ISO 4762, smallest
// bearing diameter, from memory) on a clearance hole of the medium series. It
// reports false for a size not listed here.
func SocketHead(t Thread) (Bearing, bool) {
	d := t.diameter.Float64()
	for _, h := range &heads {
		if h.d == d && h.socket > 0 {
			return Bearing{OuterDiameterMM: h.socket, HoleDiameterMM: h.hole}, true
		}
	}
	return Bearing{}, false
}
