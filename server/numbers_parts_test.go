package server_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// m8bolt is a bolt by its nut factor.
func m8bolt(k float64) *pb.BoltedJoint {
	return &pb.BoltedJoint{Thread: "M8x1", FrictionAs: &pb.BoltedJoint_NutFactor{NutFactor: exactly(k)}}
}

func taper40(change func(*pb.SquareTaper)) *pb.TaperRequest {
	w := &pb.SquareTaper{BoltTorque: newtonMeters(40), Bolt: m8bolt(0.18), Rider: &pb.Rider{MassKg: 90}, Arm: "7075"}
	if change != nil {
		change(w)
	}
	return &pb.TaperRequest{Taper: w}
}

// At 40 N·m the flats are pressed with 244.003 MPa (joint_clamps.csv, rows T01a and
// T01b, worked out apart by the same model) and stay in contact at nominal.
func TestTaperOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	got, err := client.Taper(by, taper40(nil))
	require.NoError(t, err)
	seat := got.GetSeat()
	require.InEpsilon(t, 27777.778, seat.GetBoltPreloadNewtons().GetNominal(), 1e-6)
	require.InEpsilon(t, 244.003, seat.GetFlatPressureMegapascals().GetNominal(), 5e-6)
	require.Equal(t, pb.Standing_STANDING_ABOVE_AT_NOMINAL, seat.GetContact())
	require.Equal(t, pb.Standing_STANDING_BELOW_AT_NOMINAL, seat.GetPressureStanding())
	require.Equal(t, joint.ExplanationText, seat.GetUse())

	half, err := client.Taper(by, taper40(func(w *pb.SquareTaper) { w.BoltTorque = newtonMeters(20) }))
	require.NoError(t, err)
	require.Contains(t, half.GetSeat().GetVerdict(), "lifts")
	bare, err := client.Taper(by, &pb.TaperRequest{Taper: &pb.SquareTaper{BoltPreloadNewtons: exactly(28000)}})
	require.NoError(t, err)
	require.Equal(t, pb.Standing_STANDING_UNSPECIFIED, bare.GetSeat().GetContact())

	for _, tt := range []struct {
		name   string
		change func(*pb.SquareTaper)
		want   []string
	}{
		{"no preload", func(w *pb.SquareTaper) { w.BoltTorque, w.Bolt = nil, nil }, []string{"taper.bolt_preload_newtons", "OUT_OF_RANGE"}},
		{"no bolt", func(w *pb.SquareTaper) { w.Bolt = nil }, []string{"taper.bolt", "MISSING"}},
		{"no torque", func(w *pb.SquareTaper) { w.BoltTorque = nil }, []string{"taper.bolt_torque", "MISSING"}},
		{"both", func(w *pb.SquareTaper) { w.BoltPreloadNewtons, w.CrankTorque = exactly(1), newtonMeters(1) },
			[]string{"taper.bolt_torque", "CONTRADICTION", "taper.crank_torque", "CONTRADICTION"}},
		{"friction unknown", func(w *pb.SquareTaper) { w.Bolt.FrictionAs = nil }, []string{"taper.bolt.friction", "UNKNOWN_FRICTION"}},
		{"torque of zero", func(w *pb.SquareTaper) { w.BoltTorque = newtonMeters(0) }, []string{"taper.bolt_torque.newton_meters", "OUT_OF_RANGE"}},
		{"rider", func(w *pb.SquareTaper) { w.Rider = &pb.Rider{CrankLengthMm: 10, DynamicFactor: math.NaN()} },
			[]string{"taper.rider.mass_kg", "OUT_OF_RANGE", "taper.rider.crank_length_mm", "OUT_OF_RANGE", "taper.rider.dynamic_factor", "OUT_OF_RANGE"}},
		{"geometry", func(w *pb.SquareTaper) { w.HalfAngleRad, w.FlatWidthMm, w.FlatLengthMm = 1, -1, math.Inf(1) },
			[]string{"taper.half_angle_rad", "OUT_OF_RANGE", "taper.flat_length_mm", "OUT_OF_RANGE", "taper.flat_width_mm", "OUT_OF_RANGE"}},
		{"arm", func(w *pb.SquareTaper) { w.Arm = "cheese" }, []string{"taper.arm", "UNKNOWN_WORD"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.Taper(by, taper40(tt.change))
			badFields(t, err, tt.want...)
		})
	}
	_, err = client.Taper(by, &pb.TaperRequest{})
	badFields(t, err, "taper", "MISSING")
}

func dryM6(change func(*pb.PrepRequest)) *pb.PrepRequest {
	req := &pb.PrepRequest{Bolt: &pb.BoltedJoint{Thread: "M6", Class: "8.8"}, Surface: pb.ThreadSurface_THREAD_SURFACE_ZINC_PLATED_STEEL,
		Stated: pb.ThreadPrep_THREAD_PREP_DRY, Torque: newtonMeters(10)}
	if change != nil {
		change(req)
	}
	return req
}

// What a dry figure does with every other prep. The frictions are those of VDI 2230
// table A5, classes A to C; the preload is that which Joint gives for the same
// friction.
func TestPrepOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	got, err := client.Prep(by, dryM6(nil))
	require.NoError(t, err)
	rows := got.GetComparison().GetRows()
	require.Len(t, rows, 4)
	require.Equal(t, 1.0, rows[0].GetPreloadRatio().GetNominal())
	greased := rows[1]
	require.Equal(t, pb.ThreadPrep_THREAD_PREP_GREASE, greased.GetPrep().GetPrep())
	require.Equal(t, joint.Published, greased.GetPrep().GetConfidence())
	mu := greased.GetPrep().GetFriction()
	require.Equal(t, []float64{0.08, 0.12, 0.16}, []float64{mu.GetLow(), mu.GetNominal(), mu.GetHigh()})
	same, err := client.Joint(by, &pb.JointRequest{Known: &pb.JointRequest_Torque{Torque: newtonMeters(10)},
		Joint: &pb.BoltedJoint{Thread: "M6", FrictionAs: &pb.BoltedJoint_Friction{Friction: mu}}})
	require.NoError(t, err)
	require.InEpsilon(t, same.GetJoint().GetPreloadNewtons(), greased.GetPreloadNewtons().GetNominal(), 1e-9)
	require.Greater(t, greased.GetPreloadRatio().GetNominal(), 1.0)
	require.Equal(t, joint.ExplanationText, got.GetComparison().GetUse())

	own, err := client.Prep(by, dryM6(func(req *pb.PrepRequest) {
		req.Surface, req.Stated = pb.ThreadSurface_THREAD_SURFACE_TITANIUM_ALLOY, pb.ThreadPrep_THREAD_PREP_GREASE
		req.Own = []*pb.PrepFriction{{Prep: pb.ThreadPrep_THREAD_PREP_GREASE, FrictionAs: &pb.PrepFriction_Friction{Friction: exactly(0.15)}}}
	}))
	require.NoError(t, err)
	require.Len(t, own.GetComparison().GetRows(), 1)
	require.Contains(t, own.GetComparison().GetUnknown()[0].GetWhy(), "seizes")
	require.Equal(t, joint.GivenByCaller, own.GetComparison().GetRows()[0].GetPrep().GetConfidence())

	for _, tt := range []struct {
		name   string
		change func(*pb.PrepRequest)
		want   []string
	}{
		{"nothing", func(req *pb.PrepRequest) { *req = pb.PrepRequest{} },
			[]string{"torque", "MISSING", "stated", "MISSING", "bolt.thread", "MISSING", "surface", "MISSING"}},
		{"galls", func(req *pb.PrepRequest) { req.Surface = pb.ThreadSurface_THREAD_SURFACE_STAINLESS_STEEL }, []string{"surface", "UNKNOWN_FRICTION"}},
		{"enums", func(req *pb.PrepRequest) { req.Surface, req.Stated, req.Bolt.Head = 9, 9, 9 },
			[]string{"stated", "UNKNOWN_VALUE", "bolt.head", "UNKNOWN_VALUE", "surface", "UNKNOWN_VALUE"}},
		{"torque of zero", func(req *pb.PrepRequest) { req.Torque = newtonMeters(0) }, []string{"torque.newton_meters", "OUT_OF_RANGE"}},
		{"own", func(req *pb.PrepRequest) {
			wide := &pb.PrepFriction{Prep: pb.ThreadPrep_THREAD_PREP_DRY, FrictionAs: &pb.PrepFriction_NutFactor{NutFactor: exactly(2)}}
			req.Own = []*pb.PrepFriction{nil, wide, {Prep: pb.ThreadPrep_THREAD_PREP_DRY}}
		}, []string{"own[0].prep", "MISSING", "own[0].friction", "UNKNOWN_FRICTION", "own[1].nut_factor", "OUT_OF_RANGE",
			"own[2].friction", "UNKNOWN_FRICTION", "own[2].prep", "CONTRADICTION"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			req := dryM6(nil)
			tt.change(req)
			_, err := client.Prep(by, req)
			badFields(t, err, tt.want...)
		})
	}
}

// M8 as printed: d2 7.188 mm, d3 6.466 mm, D1 6.647 mm, stress area 36.6 mm²
// (joint_threads_metric.csv; ISO 724 and ISO 898-1, from public manufacturer tables).
func TestThreadOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	got, err := client.Thread(by, &pb.ThreadRequest{Thread: "M8"})
	require.NoError(t, err)
	m8 := got.GetSizes()
	require.Equal(t, "M8x1.25", m8.GetThread())
	require.Equal(t, pb.Hand_HAND_RIGHT, m8.GetHand())
	for want, got := range map[float64]float64{7.188: m8.GetPitchDiameterMm(), 6.466: m8.GetBoltMinorDiameterMm(), 6.647: m8.GetNutMinorDiameterMm()} {
		require.InDelta(t, want, got, 0.00051)
	}
	require.InEpsilon(t, 36.6, m8.GetStressAreaMm2(), 0.004)
	require.Zero(t, m8.GetTurnsPerInch())
	require.Zero(t, m8.GetUnifiedStressAreaMm2())

	cup, err := client.Thread(by, &pb.ThreadRequest{Thread: "1.37 in x 24 tpi LH"})
	require.NoError(t, err)
	require.Equal(t, "127/120", cup.GetSizes().GetExactPitch())
	require.Equal(t, int32(24), cup.GetSizes().GetTurnsPerInch())
	require.Equal(t, pb.Hand_HAND_LEFT, cup.GetSizes().GetHand())
	require.Contains(t, cup.GetSizes().GetUses()[0].GetUse(), "drive side")
	_, err = client.Thread(by, &pb.ThreadRequest{Thread: "M6x"})
	badFields(t, err, "thread", "MALFORMED_THREAD")
	_, err = client.Thread(by, &pb.ThreadRequest{})
	badFields(t, err, "thread", "MISSING")
}

func pedal(change func(*pb.MeasuredThread)) *pb.LookAlikesRequest {
	m := &pb.MeasuredThread{DiameterMm: 14.2, Pitch: &pb.MeasuredThread_TurnsPerInch{TurnsPerInch: 20}, EngagedMm: 12.5}
	if change != nil {
		change(m)
	}
	return &pb.LookAlikesRequest{Measured: m}
}

// A pedal with 20 turns in an inch starts in a metric arm and is 0.2 mm off after
// ten turns of 0.02 mm (arithmetic).
func TestLookAlikesOverTheAPI(t *testing.T) {
	client, by, _ := numbers(t)
	got, err := client.LookAlikes(by, pedal(nil))
	require.NoError(t, err)
	require.Len(t, got.GetMayBe(), 1)
	require.Equal(t, "9/16 in x 20 tpi", got.GetMayBe()[0].GetThread())
	require.Equal(t, pb.ThreadMatch_THREAD_MATCH_THE_SAME_THREAD, got.GetMayBe()[0].GetMatch())
	found := false
	for _, l := range got.GetWrecks() {
		require.NotEqual(t, pb.ThreadMatch_THREAD_MATCH_THE_SAME_THREAD, l.GetMatch())
		if l.GetThread() == "M14x1.25" {
			found = true
			require.Equal(t, pb.ThreadMatch_THREAD_MATCH_OTHER_PITCH, l.GetMatch())
			require.InDelta(t, 0.2, l.GetAccumulatedMm(), 1e-9)
			require.Contains(t, l.GetWhy(), "binds")
		}
	}
	require.True(t, found)
	require.Equal(t, 0.1, got.GetMeasured().GetDiameterErrorMm())
	require.Equal(t, pb.Hand_HAND_RIGHT, got.GetMeasured().GetHand())
	require.Equal(t, "caliper", got.GetAssumptions()[0].GetId())

	for _, tt := range []struct {
		name   string
		change func(*pb.MeasuredThread)
		want   []string
	}{
		{"nothing", func(m *pb.MeasuredThread) { m.DiameterMm, m.Pitch = 0, nil }, []string{"measured.diameter_mm", "OUT_OF_RANGE", "measured.pitch_mm", "MISSING"}},
		{"no numbers", func(m *pb.MeasuredThread) {
			m.Pitch, m.EngagedMm = &pb.MeasuredThread_PitchMm{PitchMm: math.NaN()}, math.Inf(1)
		},
			[]string{"measured.pitch_mm", "OUT_OF_RANGE", "measured.engaged_mm", "OUT_OF_RANGE"}},
		{"errors", func(m *pb.MeasuredThread) { m.DiameterErrorMm, m.PitchErrorMm = -1, 2 },
			[]string{"measured.diameter_error_mm", "OUT_OF_RANGE", "measured.pitch_error_mm", "OUT_OF_RANGE"}},
		{"turns", func(m *pb.MeasuredThread) { m.Pitch = &pb.MeasuredThread_TurnsPerInch{TurnsPerInch: 1000} }, []string{"measured.turns_per_inch", "OUT_OF_RANGE"}},
		{"hand", func(m *pb.MeasuredThread) { m.Hand = 9 }, []string{"measured.hand", "UNKNOWN_VALUE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.LookAlikes(by, pedal(tt.change))
			badFields(t, err, tt.want...)
		})
	}
	_, err = client.LookAlikes(by, &pb.LookAlikesRequest{})
	badFields(t, err, "measured", "MISSING")
}
