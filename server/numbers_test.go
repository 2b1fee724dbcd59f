package server_test

import (
	"encoding/json"
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
	tool "github.com/tightwright/tightwright/torque/wrench"
)

// numbers is a client of the calculations, with the session of a builder.
func numbers(t testing.TB) (pb.NumbersServiceClient, *hand, *shop) {
	t.Helper()
	s := newShop(t)
	by := s.at(s.enrol(s.Context(), "Ben Builder", pb.Rank_RANK_FOREMAN), "tablet-ben")
	return pb.NewNumbersServiceClient(s.conn), by, s
}

func newtonMeters(x float64) *pb.Torque { return &pb.Torque{NewtonMeters: x} }

func exactly(x float64) *pb.Band { return &pb.Band{Nominal: x} }

func m8(change func(*pb.BoltedJoint)) *pb.BoltedJoint {
	j := &pb.BoltedJoint{Thread: "M8x1", Class: "8.8", FrictionAs: &pb.BoltedJoint_Friction{Friction: exactly(0.12)}}
	if change != nil {
		change(j)
	}
	return j
}

// M8x1 8.8 at µ 0.12 and 90 % of the yield: 20.2 kN and 26.1 N·m as printed
// (VDI 2230:2001/2003 table A2, quoted in a public manufacturer table).
func TestJointOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	byYield, err := client.Joint(by, &pb.JointRequest{Joint: m8(nil)})
	require.NoError(t, err)
	got := byYield.GetJoint()
	require.InEpsilon(t, 20200, got.GetPreloadNewtons(), 0.005)
	require.InEpsilon(t, 26.1, got.GetTorqueNewtonMeters(), 0.012)
	require.Equal(t, joint.ExplanationText, got.GetUse())
	require.Equal(t, "M8x1", got.GetThread())
	ids := map[string]string{}
	for _, a := range got.GetAssumptions() {
		ids[a.GetId()] = a.GetSource()
	}
	require.Equal(t, "ISO 4014", ids["hexagon-head"])
	require.Contains(t, ids, "utilization")

	byTorque, err := client.Joint(by, &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_Torque{Torque: newtonMeters(got.GetTorqueNewtonMeters())}})
	require.NoError(t, err)
	require.InEpsilon(t, got.GetPreloadNewtons(), byTorque.GetJoint().GetPreloadNewtons(), 1e-9)
	byPreload, err := client.Joint(by, &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_PreloadNewtons{PreloadNewtons: got.GetPreloadNewtons()}})
	require.NoError(t, err)
	require.InEpsilon(t, got.GetTorqueNewtonMeters(), byPreload.GetJoint().GetTorqueNewtonMeters(), 1e-9)
	less, err := client.Joint(by, &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_Utilization{Utilization: 0.45}})
	require.NoError(t, err)
	require.InEpsilon(t, got.GetPreloadNewtons()/2, less.GetJoint().GetPreloadNewtons(), 1e-9)
}

// K is answered by the short form T = K·d·F and never taken for µ.
func TestJointByNutFactor(t *testing.T) {
	client, by, _ := numbers(t)
	j := &pb.BoltedJoint{Thread: "M8", Class: "8.8", FrictionAs: &pb.BoltedJoint_NutFactor{NutFactor: exactly(0.2)}}
	got, err := client.Joint(by, &pb.JointRequest{Joint: j, Known: &pb.JointRequest_Torque{Torque: newtonMeters(16)}})
	require.NoError(t, err)
	require.InEpsilon(t, 10000, got.GetJoint().GetPreloadNewtons(), 1e-12) // 16/(0.2·0.008)
	require.InEpsilon(t, 580*36.6, got.GetJoint().GetProofLoadNewtons(), 1e-9)
	back, err := client.Joint(by, &pb.JointRequest{Joint: j, Known: &pb.JointRequest_PreloadNewtons{PreloadNewtons: 10000}})
	require.NoError(t, err)
	require.InEpsilon(t, 16, back.GetJoint().GetTorqueNewtonMeters(), 1e-12)
	require.Equal(t, joint.ExplanationText, back.GetJoint().GetUse())
	j.HeadBearingDiameterMm, j.Seat = 12, "steel"
	_, err = client.Joint(by, &pb.JointRequest{Joint: j})
	badFields(t, err, "joint.head_bearing_diameter_mm", "CONTRADICTION", "joint.seat", "CONTRADICTION", "torque", "MISSING")
}

func TestJointRefusals(t *testing.T) {
	client, by, _ := numbers(t)
	for _, tt := range []struct {
		name string
		req  *pb.JointRequest
		want []string
	}{
		{"nothing", &pb.JointRequest{}, []string{"joint", "MISSING"}},
		{"no friction, no thread", &pb.JointRequest{Joint: &pb.BoltedJoint{}}, []string{"joint.thread", "MISSING", "joint.friction", "UNKNOWN_FRICTION"}},
		{"friction of NaN", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) {
			j.FrictionAs = &pb.BoltedJoint_Friction{Friction: exactly(math.NaN())}
		})}, []string{"joint.friction", "OUT_OF_RANGE"}},
		{"friction of nothing", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) {
			j.FrictionAs = &pb.BoltedJoint_Friction{Friction: &pb.Band{}}
		})}, []string{"joint.friction", "OUT_OF_RANGE"}},
		{"friction above 1", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) { j.HeadFriction = exactly(1.1) })}, []string{"joint.head_friction", "OUT_OF_RANGE"}},
		{"words", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) { j.Thread, j.Class, j.Seat = "M8x9", "8.9", "cheese" })},
			[]string{"joint.thread", "MALFORMED_THREAD", "joint.class", "UNKNOWN_WORD", "joint.seat", "UNKNOWN_WORD"}},
		{"geometry", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) {
			j.HeadBearingDiameterMm, j.HoleDiameterMm, j.ConeHalfAngleRad, j.ToolDeviation = -1, math.Inf(1), 2, math.NaN()
		})}, []string{"joint.head_bearing_diameter_mm", "OUT_OF_RANGE", "joint.hole_diameter_mm", "OUT_OF_RANGE",
			"joint.cone_half_angle_rad", "OUT_OF_RANGE", "joint.hole_diameter_mm", "OUT_OF_RANGE", "joint.tool_deviation", "OUT_OF_RANGE"}},
		{"no standard head", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) { j.Thread, j.Class = "1.37 in x 24 tpi", "" }), Known: &pb.JointRequest_Torque{Torque: newtonMeters(40)}},
			[]string{"joint.head_bearing_diameter_mm", "MISSING"}},
		{"no strength", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) { j.Thread, j.Class = "M30", "A2-70" })}, []string{"joint.class", "NO_STRENGTH"}},
		{"no class", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) { j.Class = "" })}, []string{"joint.class", "NO_STRENGTH"}},
		{"torque of NaN", &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_Torque{Torque: newtonMeters(math.NaN())}}, []string{"torque.newton_meters", "OUT_OF_RANGE"}},
		{"torque of zero", &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_Torque{}}, []string{"torque.newton_meters", "OUT_OF_RANGE"}},
		{"negative preload", &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_PreloadNewtons{PreloadNewtons: -1}}, []string{"preload_newtons", "OUT_OF_RANGE"}},
		{"utilization of zero", &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_Utilization{}}, []string{"utilization", "OUT_OF_RANGE"}},
		{"more than the yield", &pb.JointRequest{Joint: m8(nil), Known: &pb.JointRequest_Utilization{Utilization: 1.1}}, []string{"utilization", "OUT_OF_RANGE"}},
		{"torsion", &pb.JointRequest{Joint: m8(func(j *pb.BoltedJoint) { j.Torsion = 9 })}, []string{"joint.torsion", "UNKNOWN_VALUE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Joint(by, tt.req)
			badFields(t, err, tt.want...)
		})
	}
}

func post272(change func(*pb.TubeClamp)) *pb.ClampRequest {
	c := &pb.TubeClamp{TubeDiameterMm: 27.2, LengthMm: 22, Bolts: 1, BoltPreloadNewtons: exactly(5555.556), Contact: pb.ContactState_CONTACT_STATE_CARBON_PASTE}
	if change != nil {
		change(c)
	}
	return &pb.ClampRequest{Clamp: c}
}

// A seat post under paste: 7936.5 N along the tube (joint_clamps.csv, row P02a,
// worked out apart by the same model).
func TestClampOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	got, err := client.Clamp(by, post272(func(c *pb.TubeClamp) { c.DemandAxialNewtons = 1000 }))
	require.NoError(t, err)
	grip := got.GetGrip()
	require.InEpsilon(t, 7936.526, grip.GetAxialSlipNewtons().GetNominal(), 0.001)
	require.Equal(t, pb.Standing_STANDING_ABOVE, grip.GetStanding())
	require.Equal(t, "holds over the whole band", grip.GetVerdict())
	require.InEpsilon(t, 4810.016, grip.GetPaste().GetAxialSlipWithoutNewtons().GetNominal(), 0.001) // row P01a
	require.Equal(t, pb.Standing_STANDING_BELOW, grip.GetOneBoltLoose().GetStanding())
	require.Equal(t, joint.ExplanationText, grip.GetUse())

	alloy, err := client.Clamp(by, post272(func(c *pb.TubeClamp) { c.Contact = pb.ContactState_CONTACT_STATE_ALLOY_DRY }))
	require.NoError(t, err)
	require.Nil(t, alloy.GetGrip().GetPaste())
	require.Equal(t, pb.Standing_STANDING_UNSPECIFIED, alloy.GetGrip().GetStanding())

	for _, tt := range []struct {
		name   string
		change func(*pb.TubeClamp)
		want   []string
	}{
		{"friction unknown", func(c *pb.TubeClamp) { c.Contact = 0 }, []string{"clamp.contact", "UNKNOWN_FRICTION"}},
		{"enums", func(c *pb.TubeClamp) { c.Contact, c.Style = 9, -1 }, []string{"clamp.style", "UNKNOWN_VALUE", "clamp.contact", "UNKNOWN_VALUE"}},
		{"odd faceplate", func(c *pb.TubeClamp) { c.Style = pb.ClampStyle_CLAMP_STYLE_TWO_PIECE }, []string{"clamp.bolts", "OUT_OF_RANGE"}},
		{"numbers", func(c *pb.TubeClamp) {
			c.TubeDiameterMm, c.LengthMm, c.BoltPreloadNewtons, c.DemandAxialNewtons = math.NaN(), 0, nil, -1
		}, []string{"clamp.tube_diameter_mm", "OUT_OF_RANGE", "clamp.length_mm", "OUT_OF_RANGE",
			"clamp.bolt_preload_newtons", "OUT_OF_RANGE", "clamp.demand_axial_newtons", "OUT_OF_RANGE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Clamp(by, post272(tt.change))
			badFields(t, err, tt.want...)
		})
	}
	_, err = client.Clamp(by, &pb.ClampRequest{})
	badFields(t, err, "clamp", "MISSING")
}

func stack25(change func(*pb.SprocketStack)) *pb.SplineRequest {
	k := &pb.SprocketStack{CrankTorque: newtonMeters(231.682), ChainringTeeth: 34, SprocketTeeth: 25, LockringTorque: newtonMeters(40), Body: "7075"}
	if change != nil {
		change(k)
	}
	return &pb.SplineRequest{Stack: k}
}

// The trade facts over the API: one loose sprocket marks an alloy body, a carrier
// or a titanium body does not, and a slack lockring makes it worse.
func TestSplineOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	pressure := func(change func(*pb.SprocketStack)) *pb.SplineLoad {
		got, err := client.Spline(by, stack25(change))
		require.NoError(t, err)
		require.Equal(t, joint.ExplanationText, got.GetLoad().GetUse())
		return got.GetLoad()
	}
	loose := pressure(nil)
	require.Equal(t, pb.Standing_STANDING_ABOVE_AT_NOMINAL, loose.GetStanding())
	require.Equal(t, pb.Standing_STANDING_ABOVE, pressure(func(k *pb.SprocketStack) { k.LockringTorque = newtonMeters(0) }).GetStanding())
	require.Equal(t, pb.Standing_STANDING_BELOW, pressure(func(k *pb.SprocketStack) { k.WidthMm = 9 }).GetStanding())
	require.Contains(t, pressure(func(k *pb.SprocketStack) { k.Body = "titanium" }).GetVerdict(), "no mark")
	require.Equal(t, pb.Standing_STANDING_UNSPECIFIED, pressure(func(k *pb.SprocketStack) { k.Body = "" }).GetStanding())

	_, err := client.Spline(by, &pb.SplineRequest{})
	badFields(t, err, "stack", "MISSING")
	_, err = client.Spline(by, &pb.SplineRequest{Stack: &pb.SprocketStack{Body: "cheese"}})
	badFields(t, err, "stack.crank_torque", "MISSING", "stack.lockring_torque", "MISSING", "stack.body", "UNKNOWN_WORD")
	_, err = client.Spline(by, stack25(func(k *pb.SprocketStack) {
		k.ChainringTeeth, k.Faces, k.WidthMm, k.LockringTorque = 3, 3, math.Inf(1), newtonMeters(-1)
	}))
	badFields(t, err, "stack.chainring_teeth", "OUT_OF_RANGE", "stack.width_mm", "OUT_OF_RANGE",
		"stack.lockring_torque.newton_meters", "OUT_OF_RANGE", "stack.faces", "OUT_OF_RANGE")
}

func wrench20(change func(*pb.WrenchScale)) *pb.WrenchScale {
	w := &pb.WrenchScale{Kind: pb.ToolKind_TOOL_KIND_SETTING, Unit: "N.m", Min: "2", Max: "20", Graduation: "0.2"}
	if change != nil {
		change(w)
	}
	return w
}

func figureOf(digits, unit string) *pb.Figure { return &pb.Figure{Digits: digits, Unit: unit} }

// 135 lbf·in with 10 in and 1.5 in is 117 lbf·in after rounding (wrench_adapters.csv,
// row A01, with its source).
func TestSettingOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	adapter := &pb.WrenchAdapter{Length: "10", Extension: "1.5", LengthUnit: pb.LengthUnit_LENGTH_UNIT_INCH}
	got, err := client.Setting(by, &pb.SettingRequest{Torque: figureOf("135", "[lbf_av].[in_i]"), Adapter: adapter})
	require.NoError(t, err)
	require.Equal(t, "2700/23", got.GetSetting().GetExact())
	require.InEpsilon(t, 117.391304347826087, got.GetSetting().GetSetting(), 1e-15)
	require.Nil(t, got.GetSetting().GetMark())

	scale := &pb.WrenchScale{Kind: pb.ToolKind_TOOL_KIND_SETTING, Unit: "[lbf_av].[in_i]", Min: "20", Max: "200", Graduation: "1"}
	got, err = client.Setting(by, &pb.SettingRequest{Torque: figureOf("135", "[lbf_av].[in_i]"), Adapter: adapter, Wrench: scale})
	require.NoError(t, err)
	require.Equal(t, "117", got.GetSetting().GetMark().GetDigits())
	got, err = client.Setting(by, &pb.SettingRequest{Torque: figureOf("135", "[lbf_av].[in_i]"), Adapter: adapter, Wrench: scale, IsMinimum: true})
	require.NoError(t, err)
	require.Equal(t, "118", got.GetSetting().GetMark().GetDigits())
	got, err = client.Setting(by, &pb.SettingRequest{Torque: figureOf("300", "[lbf_av].[in_i]"), Wrench: scale})
	require.NoError(t, err)
	require.Equal(t, tool.RuleOffScale, got.GetSetting().GetRefusal().GetRule())
}

// 5 N·m to 7 N·m by a wrench within ±4 %: settings from 5.2 N·m to 6.72 N·m,
// min·(1+d) and max·(1-d) of ISO 6789:2003, worked out by hand.
func TestSettingKeepsTheWindow(t *testing.T) {
	client, by, _ := numbers(t)
	window := func(low, high float64) *pb.Window { return &pb.Window{Min: newtonMeters(low), Max: newtonMeters(high)} }
	got, err := client.Setting(by, &pb.SettingRequest{Torque: figureOf("6.9", "N.m"), Wrench: wrench20(nil), Window: window(5, 7)})
	require.NoError(t, err)
	require.Equal(t, "6.6", got.GetSetting().GetMark().GetDigits())
	require.Equal(t, "4", got.GetSetting().GetChoice().GetDeviationPercent())
	require.Equal(t, 5.2, got.GetSetting().GetChoice().GetSettings().GetMin().GetNewtonMeters())
	require.Equal(t, 6.72, got.GetSetting().GetChoice().GetSettings().GetMax().GetNewtonMeters())
	got, err = client.Setting(by, &pb.SettingRequest{Torque: figureOf("6.9", "N.m"), Wrench: wrench20(nil), Window: window(5, 7), Allowance: pb.Allowance_ALLOWANCE_NONE})
	require.NoError(t, err)
	require.Equal(t, "7.0", got.GetSetting().GetMark().GetDigits())
	got, err = client.Setting(by, &pb.SettingRequest{Torque: figureOf("6", "N.m"), Wrench: wrench20(nil), Window: window(5.9, 6.1)})
	require.NoError(t, err)
	require.Equal(t, tool.RuleTooCoarse, got.GetSetting().GetRefusal().GetRule())
	require.NotEmpty(t, got.GetSetting().GetRefusal().GetText())
	require.Nil(t, got.GetSetting().GetMark())
}

func TestSettingRefusals(t *testing.T) {
	client, by, _ := numbers(t)
	five := figureOf("5", "N.m")
	for _, tt := range []struct {
		name string
		req  *pb.SettingRequest
		want []string
	}{
		{"nothing", &pb.SettingRequest{}, []string{"torque", "MISSING"}},
		{"digits", &pb.SettingRequest{Torque: figureOf("NaN", "N.m")}, []string{"torque.digits", "MALFORMED_FIGURE"}},
		{"negative", &pb.SettingRequest{Torque: figureOf("-5", "N.m")}, []string{"torque.digits", "OUT_OF_RANGE"}},
		{"unit", &pb.SettingRequest{Torque: figureOf("5", "Nm")}, []string{"torque.unit", "UNKNOWN_UNIT"}},
		{"lengths", &pb.SettingRequest{Torque: five, Adapter: &pb.WrenchAdapter{Length: "x", AngleDegrees: "1e2"}},
			[]string{"adapter.length", "MALFORMED_NUMBER", "adapter.extension", "MISSING", "adapter.angle_degrees", "MALFORMED_NUMBER"}},
		{"lever too short", &pb.SettingRequest{Torque: five, Adapter: &pb.WrenchAdapter{Length: "10", Extension: "9.5", AngleDegrees: "180"}},
			[]string{"adapter.extension", "OUTSIDE_RANGE"}},
		{"unit of length", &pb.SettingRequest{Torque: five, Adapter: &pb.WrenchAdapter{Length: "10", Extension: "1", LengthUnit: 9}},
			[]string{"adapter.length_unit", "UNKNOWN_VALUE"}},
		{"wrench", &pb.SettingRequest{Torque: five, Wrench: wrench20(func(w *pb.WrenchScale) { w.Min, w.Max, w.DeviationPercent = "30", "", "60" })},
			[]string{"wrench.max", "MISSING", "wrench.deviation_percent", "MALFORMED_NUMBER"}},
		{"words of a wrench", &pb.SettingRequest{Torque: five, Wrench: wrench20(func(w *pb.WrenchScale) { w.Kind, w.Unit, w.Class = 0, "Nm", "III-A" })},
			[]string{"wrench.kind", "MISSING", "wrench.unit", "UNKNOWN_UNIT", "wrench.class", "UNKNOWN_WORD"}},
		{"no maximum", &pb.SettingRequest{Torque: five, Wrench: wrench20(nil), Window: &pb.Window{Min: newtonMeters(4)}}, []string{"window.max", "MISSING"}},
		{"no wrench for a window", &pb.SettingRequest{Torque: five, IsMinimum: true, Window: &pb.Window{Max: newtonMeters(6)}},
			[]string{"wrench", "MISSING", "is_minimum", "CONTRADICTION"}},
		{"allowance", &pb.SettingRequest{Torque: five, Allowance: 7}, []string{"allowance", "UNKNOWN_VALUE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Setting(by, tt.req)
			badFields(t, err, tt.want...)
		})
	}
}

// Φ(1) of one limit a standard uncertainty away is 0.8413447460685429 (any table of
// the normal distribution).
func TestDecideOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	got, err := client.Decide(by, &pb.DecideRequest{Min: "5", Max: "7", Reading: "6.9", U: "0.1"})
	require.NoError(t, err)
	d := got.GetDecision()
	require.InDelta(t, 0.8413447460685429, d.GetProbability(), 1e-12)
	require.Equal(t, pb.Verdict_VERDICT_UNDECIDED, d.GetOutcome())
	require.Equal(t, pb.DecisionRule_DECISION_RULE_BY_PROBABILITY, d.GetRule())
	require.Equal(t, 0.95, d.GetLevel())
	got, err = client.Decide(by, &pb.DecideRequest{Max: "7", Reading: "7.5", U: "0.1", Rule: pb.DecisionRule_DECISION_RULE_GUARDED_BOTH_WAYS, GuardFactor: "1"})
	require.NoError(t, err)
	require.Equal(t, pb.Verdict_VERDICT_NONCONFORMING, got.GetDecision().GetOutcome())
	require.Equal(t, "6.8", got.GetDecision().GetAcceptMax())
	for _, tt := range []struct {
		name string
		req  *pb.DecideRequest
		want []string
	}{
		{"nothing", &pb.DecideRequest{}, []string{"reading", "MISSING", "u", "MISSING"}},
		{"no limit", &pb.DecideRequest{Reading: "6", U: "0"}, []string{"max", "MISSING"}},
		{"reversed", &pb.DecideRequest{Min: "7", Max: "5", Reading: "6", U: "0"}, []string{"max", "REVERSED_RANGE"}},
		{"numbers", &pb.DecideRequest{Max: "Inf", Reading: "NaN", U: "-1"},
			[]string{"reading", "MALFORMED_NUMBER", "u", "OUTSIDE_RANGE", "max", "MALFORMED_NUMBER"}},
		{"level of NaN", &pb.DecideRequest{Max: "7", Reading: "6", U: "0.1", Level: math.NaN()}, []string{"level", "OUTSIDE_RANGE"}},
		{"rule", &pb.DecideRequest{Max: "7", Reading: "6", U: "0.1", Rule: 9}, []string{"rule", "UNKNOWN_VALUE"}},
		{"k alone", &pb.DecideRequest{Max: "7", Reading: "6", U: "0.1", K: "2"}, []string{"k", "CONTRADICTION"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Decide(by, tt.req)
			badFields(t, err, tt.want...)
		})
	}
}

// Figures that are each in range and make no number together are refused.
func TestNumbersStayNumbers(t *testing.T) {
	client, by, _ := numbers(t)
	_, err := client.Spline(by, stack25(func(k *pb.SprocketStack) { k.WidthMm = 5e-324 }))
	badFields(t, err, "stack", "OUT_OF_RANGE")
	_, err = client.Clamp(by, post272(func(c *pb.TubeClamp) { c.TubeDiameterMm, c.LengthMm = 1e-300, 1e-300 }))
	badFields(t, err, "clamp", "OUT_OF_RANGE")
	_, err = client.Joint(by, &pb.JointRequest{Known: &pb.JointRequest_Torque{Torque: newtonMeters(1e5)},
		Joint: &pb.BoltedJoint{Thread: "M8", FrictionAs: &pb.BoltedJoint_NutFactor{NutFactor: exactly(5e-324)}}})
	badFields(t, err, "joint", "OUT_OF_RANGE")
}

// The calculations answer on the web port too.
func TestNumbersAsJSON(t *testing.T) {
	_, by, s := numbers(t)
	resp, body := s.post(by.token, "NumbersService/Decide", `{"min":"5","max":"7","reading":"6.9","u":"0.1"}`)
	require.Equal(t, http.StatusOK, resp.StatusCode, string(body))
	var got struct {
		Decision struct {
			Probability float64
			Outcome     string
		}
	}
	require.NoError(t, json.Unmarshal(body, &got))
	require.InDelta(t, 0.8413447460685429, got.Decision.Probability, 1e-12)
	require.Equal(t, "VERDICT_UNDECIDED", got.Decision.Outcome)
	resp, body = s.post(by.token, "NumbersService/Joint", `{"joint":{"thread":"M8","friction":{"nominal":"NaN"}}}`)
	require.Equal(t, http.StatusBadRequest, resp.StatusCode, string(body))
}

// The enums of the calculations count like those of the domain.
func TestNumberEnumsCountAlike(t *testing.T) {
	spoken := strings.NewReplacer("_", " ", ",", "", "-", " ")
	for _, tt := range []struct {
		name   string
		prefix string
		values map[int32]string
		first  int32 // the API's number of the domain's 0
		domain func(v uint8) string
	}{
		{"standing", "STANDING_", pb.Standing_name, 0, func(v uint8) string { return joint.Standing(v).String() }},
		{"contact", "CONTACT_STATE_", pb.ContactState_name, 0, func(v uint8) string { return joint.Contact(v).String() }},
		{"style", "CLAMP_STYLE_", pb.ClampStyle_name, 1, func(v uint8) string { return joint.ClampStyle(v).String() }},
		{"rule", "DECISION_RULE_", pb.DecisionRule_name, 1, func(v uint8) string { return tool.Rule(v).String() }},
		{"outcome", "VERDICT_", pb.Verdict_name, 0, func(v uint8) string { return tool.Outcome(v).String() }},
		{"kind of tool", "TOOL_KIND_", pb.ToolKind_name, 0, func(v uint8) string { return tool.Kind(v).String() }},
		{"allowance", "ALLOWANCE_", pb.Allowance_name, 1, func(v uint8) string { return tool.Allowance(v).String() }},
		{"match", "THREAD_MATCH_", pb.ThreadMatch_name, 0, func(v uint8) string { return joint.Match(v).String() }},
		{"prep of a thread", "THREAD_PREP_", pb.ThreadPrep_name, 0, func(v uint8) string { return joint.Prep(v).String() }},
		{"surface", "THREAD_SURFACE_", pb.ThreadSurface_name, 0, func(v uint8) string { return joint.Surface(v).String() }},
		{"hand", "HAND_", pb.Hand_name, 1, func(v uint8) string { return strings.TrimSuffix(joint.Hand(v).String(), "-hand") }},
		{"unit of length", "LENGTH_UNIT_", pb.LengthUnit_name, 1, func(v uint8) string {
			return map[string]string{"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot"}[tool.LengthUnit(v).String()]
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for number := int32(1); number < int32(len(tt.values)); number++ {
				name := spoken.Replace(strings.ToLower(strings.TrimPrefix(tt.values[number], tt.prefix)))
				require.Equal(t, name, spoken.Replace(tt.domain(uint8(number-tt.first))))
			}
		})
	}
	require.Equal(t, int32(joint.PlasticTorsion)+1, int32(pb.Torsion_TORSION_PLASTIC))
	require.Equal(t, int32(joint.ElasticTorsion)+1, int32(pb.Torsion_TORSION_ELASTIC))
}
