package joint

import "math"

// A SplineLoad is how a sprocket stack loads the body. Bands hold about nine
// cases in ten; torques are in newton meters.
type SplineLoad struct {
	SprocketNewtonMeters   Band `json:"sprocket_newton_meters"`
	LockringPreloadNewtons Band `json:"lockring_preload_newtons"`
	// FaceNewtonMeters is the torque that friction passes on at each face.
	FaceNewtonMeters  Band `json:"face_newton_meters"`
	FlankNewtonMeters Band `json:"flank_newton_meters"` // left for the splines
	FlankPressureMPa  Band `json:"flank_pressure_megapascals"`

	Body             Material `json:"body,omitzero"`
	PressureLimitMPa float64  `json:"pressure_limit_megapascals,omitempty"`
	LimitSource      string   `json:"limit_source,omitempty"`
	Standing         Standing `json:"standing,omitzero"` // of the pressure against the limit
	Verdict          string   `json:"verdict,omitempty"`
	// CapacityNewtonMeters is the sprocket torque at which the limit is reached;
	// zero without a body.
	CapacityNewtonMeters Band `json:"capacity_newton_meters,omitzero"`

	Assumptions Assumptions `json:"assumptions"`
	Warnings    Warnings    `json:"warnings"`
	Use         Explanation `json:"use"`
}

// Load works out how the stack loads the body. Which way of building marks which
// body is robust over the band; the tooth count at which marks begin is not
// (about five teeth either way).
//
// Errors: [FieldError].
func (s SprocketStack) Load() (SplineLoad, error) {
	assumed := s.fill()
	if err := s.check(); err != nil {
		return SplineLoad{}, err
	}
	limit := s.Body.LimitingPressureMPa()
	out := s.likely(limit)
	l := SplineLoad{
		SprocketNewtonMeters:   out[sprocketTorque],
		LockringPreloadNewtons: out[lockringPull],
		FaceNewtonMeters:       out[faceTorque],
		FlankNewtonMeters:      out[flankTorque],
		FlankPressureMPa:       out[flankPressure],
		Body:                   s.Body,
		PressureLimitMPa:       limit,
		LimitSource:            s.Body.Source(),
		Standing:               s.Body.standing(out[flankPressure]),
		Assumptions:            assumed,
	}
	if !s.Body.IsZero() {
		l.CapacityNewtonMeters = out[splineCapacity]
	}
	l.Verdict = markVerdict(l.Standing)
	return l, nil
}

// likelyShare turns the half-width of a triangular range into the half-width
// that holds nine cases in ten of a sum of such: standard deviation a/√6 (JCGM
// 100:2008, 4.3.9) times 1.645.
const likelyShare = 1.645 / 2.449489742783178

// likely works out all outputs at nominal, moves one input at a time to either
// end of its range and adds the changes in quadrature, up and down apart (JCGM
// 100:2008, 5.1.2, with finite steps because the ranges are wide).
func (s *SprocketStack) likely(limitMPa float64) (out [splineOutputCount]Band) {
	ranges := s.ranges()
	var nominal [splineInputCount]float64
	for i := range ranges {
		nominal[i] = ranges[i].Nominal
	}
	middle := s.model(nominal, limitMPa)
	var down, up [splineOutputCount]float64
	for i := range ranges {
		for _, end := range [2]float64{ranges[i].Low, ranges[i].High} {
			moved := nominal
			moved[i] = end
			for j, value := range s.model(moved, limitMPa) {
				change := value - middle[j]
				if change < 0 {
					down[j] += change * change
				} else {
					up[j] += change * change
				}
			}
		}
	}
	for j := range out {
		out[j] = Band{
			math.Max(0, middle[j]-likelyShare*math.Sqrt(down[j])), middle[j],
			middle[j] + likelyShare*math.Sqrt(up[j]),
		}
	}
	return out
}

func markVerdict(s Standing) string {
	switch s {
	case Above:
		return "marks the body over the whole band"
	case AboveAtNominal:
		return "marks the body at nominal, not at the low end"
	case BelowAtNominal:
		return "no mark at nominal, may mark at the high end"
	case Below:
		return "no mark over the whole band"
	default:
		return ""
	}
}
