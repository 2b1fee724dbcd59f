package server_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// The pressure at the slot against the maker's limit, a load of a standard by its
// name, and a preload that follows from the torque of the bolt. The load is that of
// ISO 4210-9:2014 clause 4.2 (1000 N along the post, joint_security_loads.csv).
func TestClampAsAPersonAsks(t *testing.T) {
	client, by, _ := numbers(t)
	byTorque := func(c *pb.TubeClamp) {
		c.BoltPreloadNewtons, c.BoltTorque = nil, newtonMeters(5)
		c.Bolt = &pb.BoltedJoint{Thread: "M5", FrictionAs: &pb.BoltedJoint_NutFactor{NutFactor: exactly(0.18)}}
		c.DemandName, c.PressureLimitMegapascals = "saddle and seat post, vertical", 15
	}
	got, err := client.Clamp(by, post272(byTorque))
	require.NoError(t, err)
	grip := got.GetGrip()
	require.InEpsilon(t, 5/(0.18*0.005), grip.GetBoltPreloadNewtons().GetNominal(), 1e-12)
	require.Equal(t, 1000.0, grip.GetDemand().GetAxialNewtons())
	require.Contains(t, grip.GetDemand().GetSource(), "ISO 4210-9")
	require.Equal(t, 15.0, grip.GetPressureLimitMegapascals())
	require.Greater(t, grip.GetPeakPressureMegapascals().GetLow(), 15.0)
	require.Equal(t, pb.Standing_STANDING_ABOVE, grip.GetPressureStanding())
	require.NotNil(t, grip.GetPaste().GetTorsionalSlipWithNewtonMeters())

	byFriction, err := client.Clamp(by, post272(func(c *pb.TubeClamp) {
		byTorque(c)
		c.Bolt.FrictionAs = &pb.BoltedJoint_Friction{Friction: exactly(0.12)}
	}))
	require.NoError(t, err)
	bolt, err := client.Joint(by, &pb.JointRequest{Known: &pb.JointRequest_Torque{Torque: newtonMeters(5)},
		Joint: &pb.BoltedJoint{Thread: "M5", FrictionAs: &pb.BoltedJoint_Friction{Friction: exactly(0.12)}}})
	require.NoError(t, err)
	require.Equal(t, bolt.GetJoint().GetPreloadBandNewtons().GetHigh(), byFriction.GetGrip().GetBoltPreloadNewtons().GetHigh())

	open, err := client.Clamp(by, post272(nil))
	require.NoError(t, err)
	require.Equal(t, pb.Standing_STANDING_UNSPECIFIED, open.GetGrip().GetPressureStanding())
	require.Nil(t, open.GetGrip().GetDemand())
	for _, tt := range []struct {
		name   string
		change func(*pb.TubeClamp)
		want   []string
	}{
		{"limit", func(c *pb.TubeClamp) { c.PressureLimitMegapascals = -1 }, []string{"clamp.pressure_limit_megapascals", "OUT_OF_RANGE"}},
		{"limit of NaN", func(c *pb.TubeClamp) { c.PressureLimitMegapascals = math.NaN() }, []string{"clamp.pressure_limit_megapascals", "OUT_OF_RANGE"}},
		{"limit without end", func(c *pb.TubeClamp) { c.PressureLimitMegapascals = math.Inf(1) }, []string{"clamp.pressure_limit_megapascals", "OUT_OF_RANGE"}},
		{"load", func(c *pb.TubeClamp) { c.DemandName = "an elephant" }, []string{"clamp.demand_name", "UNKNOWN_WORD"}},
		{"two loads", func(c *pb.TubeClamp) { c.DemandName, c.DemandAxialNewtons = "handlebar in stem, racing", 5 },
			[]string{"clamp.demand_name", "CONTRADICTION"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Clamp(by, post272(tt.change))
			badFields(t, err, tt.want...)
		})
	}
}

// A torque compared with a share of the yield, a socket head, and what the engaged
// thread holds. The forces are those of the library, which its own tests hold
// against the published strip areas.
func TestJointAsAPersonAsks(t *testing.T) {
	client, by, _ := numbers(t)
	ask := func(share float64, change func(*pb.BoltedJoint)) (*pb.TightenedJoint, error) {
		got, err := client.Joint(by, &pb.JointRequest{Joint: m8(change), CompareUtilization: share, Known: &pb.JointRequest_Torque{Torque: newtonMeters(20)}})
		return got.GetJoint(), err
	}
	under, err := ask(0.9, nil)
	require.NoError(t, err)
	require.True(t, under.GetIsWithinUtilization())
	over, err := ask(0.5, nil)
	require.NoError(t, err)
	require.NotNil(t, over.IsWithinUtilization)
	require.False(t, over.GetIsWithinUtilization())
	plain, err := ask(0, nil)
	require.NoError(t, err)
	require.Nil(t, plain.IsWithinUtilization)
	require.Nil(t, plain.Stripping)

	socket, err := ask(0, func(j *pb.BoltedJoint) { j.Head = pb.HeadKind_HEAD_KIND_SOCKET })
	require.NoError(t, err)
	require.NotEqual(t, plain.GetBearingDiameterMm(), socket.GetBearingDiameterMm())
	engaged, err := ask(0, func(j *pb.BoltedJoint) { j.EngagementMm, j.PartStrengthMegapascals, j.Fit = 8, 310, "6H/6g" })
	require.NoError(t, err)
	thread, err := joint.ParseThread("M8x1")
	require.NoError(t, err)
	class, err := joint.ParseClass("8.8")
	require.NoError(t, err)
	want, err := joint.Engaged{Thread: thread, Class: class, EngagedMM: 8, PartTensileMPa: 310}.Strip()
	require.NoError(t, err)
	require.Equal(t, want.InnerStripNewtons, engaged.GetStripping().GetInnerStripNewtons())
	require.Equal(t, want.GivesWay, engaged.GetStripping().GetGivesWay())
	require.NotNil(t, engaged.GetStripping().GetPreloadShare())

	for _, tt := range []struct {
		name   string
		share  float64
		change func(*pb.BoltedJoint)
		want   []string
	}{
		{"share", 1.1, nil, []string{"compare_utilization", "OUT_OF_RANGE"}},
		{"share of NaN", math.NaN(), nil, []string{"compare_utilization", "OUT_OF_RANGE"}},
		{"share of nothing", 0.9, func(j *pb.BoltedJoint) { j.Class = "" }, []string{"joint.class", "MISSING"}},
		{"head", 0, func(j *pb.BoltedJoint) { j.Thread, j.Head = "M9x1", pb.HeadKind_HEAD_KIND_SOCKET }, []string{"joint.head", "OUT_OF_RANGE"}},
		{"fit alone", 0, func(j *pb.BoltedJoint) { j.Fit, j.Class = "loose", "" },
			[]string{"joint.engagement_mm", "MISSING", "joint.part_strength_megapascals", "MISSING", "joint.class", "MISSING", "joint.fit", "UNKNOWN_WORD"}},
		{"engagement", 0, func(j *pb.BoltedJoint) { j.EngagementMm, j.PartStrengthMegapascals = math.Inf(1), 310 }, []string{"joint.engagement_mm", "OUT_OF_RANGE"}},
		{"strength", 0, func(j *pb.BoltedJoint) { j.EngagementMm, j.PartStrengthMegapascals = 8, math.NaN() },
			[]string{"joint.part_strength_megapascals", "OUT_OF_RANGE"}},
		{"beside a nut factor", 0.9, func(j *pb.BoltedJoint) {
			j.FrictionAs, j.EngagementMm = &pb.BoltedJoint_NutFactor{NutFactor: exactly(0.2)}, 8
		}, []string{"joint.engagement_mm", "CONTRADICTION", "compare_utilization", "CONTRADICTION"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ask(tt.share, tt.change)
			badFields(t, err, tt.want...)
		})
	}
	_, err = client.Joint(by, &pb.JointRequest{Joint: m8(nil), CompareUtilization: 0.9})
	badFields(t, err, "compare_utilization", "CONTRADICTION")
}

// A rider stands in for the torque at the crank: 90 kg on 175 mm with the factor
// 1.5 is 231.682 N·m (m·g·L·k, worked out by hand).
func TestSplineByRider(t *testing.T) {
	client, by, _ := numbers(t)
	torque, err := client.Spline(by, stack25(nil))
	require.NoError(t, err)
	rider, err := client.Spline(by, stack25(func(k *pb.SprocketStack) { k.CrankTorque, k.Rider = nil, &pb.Rider{MassKg: 90} }))
	require.NoError(t, err)
	require.InEpsilon(t, torque.GetLoad().GetSprocketNewtonMeters().GetNominal(), rider.GetLoad().GetSprocketNewtonMeters().GetNominal(), 1e-5)
	_, err = client.Spline(by, stack25(func(k *pb.SprocketStack) { k.Rider = &pb.Rider{MassKg: 90} }))
	badFields(t, err, "stack.crank_torque", "CONTRADICTION")
}

// The reverse: what comes to the fastener. 117 lbf·in at 10 in with 1.5 in more is
// 134.55 lbf·in, 117·11.5/10.
func TestSettingTheOtherWayRound(t *testing.T) {
	client, by, _ := numbers(t)
	adapter := &pb.WrenchAdapter{Length: "10", Extension: "1.5", LengthUnit: pb.LengthUnit_LENGTH_UNIT_INCH}
	got, err := client.Setting(by, &pb.SettingRequest{SetTo: figureOf("117", "[lbf_av].[in_i]"), Adapter: adapter})
	require.NoError(t, err)
	require.Nil(t, got.GetSetting())
	require.Equal(t, "134.55", got.GetApplied().GetExact())
	require.Equal(t, "[lbf_av].[in_i]", got.GetApplied().GetUnit())
	for _, tt := range []struct {
		name string
		req  *pb.SettingRequest
		want []string
	}{
		{"no adapter", &pb.SettingRequest{SetTo: figureOf("117", "N.m")}, []string{"adapter", "MISSING"}},
		{"negative", &pb.SettingRequest{SetTo: figureOf("-1", "N.m"), Adapter: adapter}, []string{"set_to.digits", "OUT_OF_RANGE"}},
		{"beside others", &pb.SettingRequest{SetTo: figureOf("5", "N.m"), Torque: figureOf("5", "N.m"), Adapter: adapter,
			Wrench: wrench20(nil), Window: &pb.Window{}, Allowance: 1, IsMinimum: true},
			[]string{"torque", "CONTRADICTION", "wrench", "CONTRADICTION", "window", "CONTRADICTION", "allowance", "CONTRADICTION", "is_minimum", "CONTRADICTION"}},
		{"aimed beside the window", &pb.SettingRequest{Torque: figureOf("8", "N.m"), Wrench: wrench20(nil),
			Window: &pb.Window{Min: newtonMeters(5), Max: newtonMeters(7)}}, []string{"torque.digits", "OUT_OF_RANGE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Setting(by, tt.req)
			badFields(t, err, tt.want...)
		})
	}
}
