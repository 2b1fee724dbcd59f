package server_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/encoding/protojson"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// fitting is a client of the fit rules, with the session of a builder.
func fitting(t testing.TB) (pb.FitServiceClient, *hand, *shop) {
	t.Helper()
	s := newShop(t)
	by := s.at(s.enrol(s.Context(), "Ben Builder", pb.Rank_RANK_FOREMAN), "tablet-ben")
	return pb.NewFitServiceClient(s.conn), by, s
}

func TestListFitRules(t *testing.T) {
	client, by, _ := fitting(t)
	got, err := client.ListFitRules(by, &pb.ListFitRulesRequest{})
	require.NoError(t, err)
	var ids []string
	for _, r := range got.GetRules() {
		ids = append(ids, r.GetRule())
		require.NotEmpty(t, r.GetQuestions(), r.GetRule())
		for _, q := range r.GetQuestions() {
			require.NotEmpty(t, q.GetAttribute().GetForm(), q.GetKey())
		}
	}
	require.Equal(t, procedure.FitRules(), ids)
	require.Len(t, got.GetInstruments(), len(fit.Measuring()))
	require.Equal(t, "0.1 mm", got.GetInstruments()[0].GetError())
}

// Rings 50/34 and sprockets 11-36 on a cage for 39 are short by 2 (worked example,
// common practice, no source).
func TestCheckFit(t *testing.T) {
	client, by, _ := fitting(t)
	got, err := client.CheckFit(by, &pb.CheckFitRequest{Rule: "derailleur-capacity", Values: map[string]string{
		"rear-derailleur.capacity": "39", "crankset.largest_ring": "50", "crankset.smallest_ring": "34", "cassette.largest": "36", "cassette.smallest": "11"}})
	require.NoError(t, err)
	require.Equal(t, pb.FitVerdict_FIT_VERDICT_DOES_NOT_FIT, got.GetVerdict())
	r := got.GetResults()[0]
	require.EqualValues(t, -2, r.GetMargin().GetCount())
	require.Equal(t, "teeth", r.GetMargin().GetCounted())
	require.Equal(t, "0 mm", r.GetInstrumentError())
	require.Equal(t, pb.FitConfidence_FIT_CONFIDENCE_COMMON_PRACTICE, r.GetConfidence())
}

// A post with 0.05 mm to spare fits by a bore gauge and by nothing coarser.
func TestCheckFitWithAnInstrument(t *testing.T) {
	client, by, _ := fitting(t)
	for _, tt := range []struct {
		instrument, err string
		want            pb.FitVerdict
	}{
		{"bore-gauge", "0.01 mm", pb.FitVerdict_FIT_VERDICT_FITS},
		{"", "0.05 mm", pb.FitVerdict_FIT_VERDICT_FITS},
		{"caliper", "0.1 mm", pb.FitVerdict_FIT_VERDICT_TRY_AND_MEASURE},
		{"tape", "1 mm", pb.FitVerdict_FIT_VERDICT_TRY_AND_MEASURE},
	} {
		got, err := client.CheckFit(by, &pb.CheckFitRequest{Rule: "seatpost", Instrument: tt.instrument, Values: map[string]string{
			"seatpost.shape": "round", "seatpost.diameter": "31.55 mm", "frame.seat_tube_inner": "31.6 mm"}})
		require.NoError(t, err)
		require.Equal(t, tt.want, got.GetVerdict(), tt.instrument)
		require.Equal(t, tt.err, got.GetResults()[0].GetInstrumentError())
		require.Equal(t, "0.05 mm", got.GetResults()[0].GetMargin().GetLength())
	}
}

func TestCheckFitMistakes(t *testing.T) {
	client, by, _ := fitting(t)
	many := map[string]string{}
	for i := range 41 {
		many[string(rune('a'+i))] = "x"
	}
	for _, tt := range []struct {
		name string
		req  *pb.CheckFitRequest
		want []string
	}{
		{"nothing", &pb.CheckFitRequest{}, []string{"rule", "MISSING"}},
		{"rule and instrument", &pb.CheckFitRequest{Rule: "x", Instrument: "eye"}, []string{"instrument", "UNKNOWN_INSTRUMENT"}},
		{"unknown rule", &pb.CheckFitRequest{Rule: "wings"}, []string{"rule", "UNKNOWN_RULE"}},
		{"too many", &pb.CheckFitRequest{Rule: "seatpost", Values: many}, []string{"values", "TOO_MANY"}},
		{"no unit", &pb.CheckFitRequest{Rule: "body-length", Values: map[string]string{"freehub-body.length": "36", "cassette.made_for_length": "34.9 mm"}},
			[]string{"values.freehub-body.length", "MALFORMED_LENGTH"}},
		{"absurd", &pb.CheckFitRequest{Rule: "body-length", Values: map[string]string{"freehub-body.length": "900 mm", "cassette.made_for_length": "34.9 mm"}},
			[]string{"values", "RANGE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := client.CheckFit(by, tt.req)
			badFields(t, err, tt.want...)
		})
	}
}

func TestCheckSheetFit(t *testing.T) {
	client, by, _ := fitting(t)
	got, err := client.CheckSheetFit(by, &pb.CheckSheetFitRequest{Sheet: wholeSheet(t)})
	require.NoError(t, err)
	require.Len(t, got.GetRules(), len(procedure.FitRules()))
	worst := pb.FitVerdict_FIT_VERDICT_UNSPECIFIED
	for _, r := range got.GetRules() {
		require.Empty(t, r.GetProblem(), r.GetRule())
		worst = max(worst, r.GetVerdict())
	}
	require.Equal(t, worst, got.GetVerdict())
	_, err = client.CheckSheetFit(by, &pb.CheckSheetFitRequest{})
	badFields(t, err, "sheet", "MISSING")
}

func TestFindBodiesAndShells(t *testing.T) {
	client, by, _ := fitting(t)
	bodies, err := client.FindBodies(by, &pb.FindBodiesRequest{Splines: "9-spline", MadeForLength: "34.9 mm", SmallestSprocket: 11, LooseSprockets: true})
	require.NoError(t, err)
	require.Equal(t, "34.9 mm", bodies.GetBodies()[0].GetLength())
	require.Equal(t, pb.FitVerdict_FIT_VERDICT_FITS, bodies.GetBodies()[0].GetVerdict())
	require.Equal(t, pb.FitVerdict_FIT_VERDICT_FITS_WITH, bodies.GetBodies()[1].GetVerdict())
	require.Equal(t, []string{fit.LooseSprocketNote()}, bodies.GetNotes())
	_, err = client.FindBodies(by, &pb.FindBodiesRequest{MadeForLength: "34.9", Instrument: "eye"})
	badFields(t, err, "made_for_length", "MALFORMED_LENGTH", "splines", "MISSING", "instrument", "UNKNOWN_INSTRUMENT")
	_, err = client.FindBodies(by, &pb.FindBodiesRequest{Splines: "9-spline", SmallestSprocket: -4})
	badFields(t, err, "made_for_length", "REQUIRED", "smallest_sprocket", "RANGE")

	shells, err := client.FindShells(by, &pb.FindShellsRequest{Spindle: "24 mm", NeedsWidth: "75.5 mm", Spacer: "2.5 mm"})
	require.NoError(t, err)
	require.Equal(t, "1.37 in x 24 tpi LH", shells.GetShells()[0].GetDriveThread())
	require.Equal(t, "3", shells.GetShells()[0].GetResults()[1].GetNumbers()["spacer_count"])
	_, err = client.FindShells(by, &pb.FindShellsRequest{NeedsWidth: "10 mm"})
	badFields(t, err, "spindle", "MISSING")
	_, err = client.FindShells(by, &pb.FindShellsRequest{Spindle: "23 mm", NeedsWidth: "10 mm"})
	badFields(t, err, "spindle", "KNOWN", "needs_width", "RANGE")
}

func TestCheckDiscChange(t *testing.T) {
	client, by, _ := fitting(t)
	rim := &pb.DiscEnd{Mount: "none", LeverBy: "short-pull"}
	got, err := client.CheckDiscChange(by, &pb.CheckDiscChangeRequest{Front: rim, Rear: rim})
	require.NoError(t, err)
	require.Len(t, got.GetNeeds(), 5)
	for _, n := range got.GetNeeds() {
		require.False(t, n.GetPresent())
		require.NotEmpty(t, n.GetNeeds())
	}
	require.Equal(t, pb.FitVerdict_FIT_VERDICT_DOES_NOT_FIT, got.GetVerdict())
	_, err = client.CheckDiscChange(by, &pb.CheckDiscChangeRequest{Front: &pb.DiscEnd{Mount: "post", LeverBy: "rope"}})
	badFields(t, err, "front.lever_by", "UNKNOWN_CHOICE", "rear.mount", "MISSING")
}

// The gateway answers the same as JSON.
func TestFitOverTheWeb(t *testing.T) {
	_, by, s := fitting(t)
	resp, body := s.post(by.token, "FitService/FindShells", `{"spindle": "24 mm", "needsWidth": "68 mm"}`)
	require.Equal(t, http.StatusOK, resp.StatusCode, string(body))
	var got pb.FindShellsResponse
	require.NoError(t, protojson.Unmarshal(body, &got))
	require.Equal(t, pb.FitVerdict_FIT_VERDICT_FITS, got.GetShells()[0].GetVerdict())
	resp, _ = s.post("", "FitService/FindShells", `{}`)
	require.Equal(t, http.StatusUnauthorized, resp.StatusCode)
}

// The verdicts of the API count and are called as those of package fit.
func TestFitVerdictsCountAlike(t *testing.T) {
	for v := fit.Fits; v <= fit.DoesNotFit; v++ {
		require.Equal(t, "FIT_VERDICT_"+strings.ToUpper(strings.ReplaceAll(v.String(), " ", "_")), pb.FitVerdict(v).String())
	}
	require.Len(t, pb.FitVerdict_name, int(fit.DoesNotFit)+1)
}

// What a maker allows with paste comes back as it was sent, and a share that no
// maker allows is refused by its place.
func TestPasteLessOverTheAPI(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	bike := sheet(t, "b-02.yaml")
	figure := &pb.PrintedFigure{Joint: "seat-collar-m5-carbon-post", Marking: "5 N·m", Seen: pb.Confidence_CONFIDENCE_PRINTED, Where: "on the collar", PasteLessPercent: 20}
	bike.Parts[0].Printed = []*pb.PrintedFigure{figure}
	made, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-7", Sheet: bike})
	require.NoError(t, err)
	require.EqualValues(t, 20, made.GetBuild().GetSheet().GetParts()[0].GetPrinted()[0].GetPasteLessPercent())
	figure.PasteLessPercent = 31
	_, err = s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-8", Sheet: bike})
	badFields(t, err, "sheet.parts[0].printed[0].paste_less_percent", "OUT_OF_RANGE")
}
