package catalogue_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque/joint"
)

// rowOf is a sound row of the joint table but for its thread.
func rowOf(thread, location, note string, limits ...string) procedure.JointRow {
	return procedure.JointRow{ID: "a-row", Title: "a joint", Location: location, Thread: thread, Limits: limits,
		Window: "30 N·m to 40 N·m", ThreadPrep: procedure.Grease, Risk: procedure.SafetyCritical, Note: note,
		Source: procedure.Source{Text: "invented", Confidence: procedure.FromMemory}}
}

func rulesOf(err error) []string {
	var out []string
	for _, fe := range procedure.FieldErrors(err) {
		out = append(out, fe.Path+" "+fe.Rule)
	}
	return out
}

// A thread that is left-hand where it stands is refused without its hand. The
// threads and hands are those of joint_threads_cycle.csv.
func TestLeftHandThreadsSayTheirHand(t *testing.T) {
	for _, tc := range []struct {
		name string
		row  procedure.JointRow
		left bool
	}{
		{"drive side cup", rowOf("1.37 in x 24 tpi", "drive side of the shell", "", "bottom-bracket", "bottom-bracket-shell"), true},
		{"other cup", rowOf("1.37 in x 24 tpi", "non-drive side of the shell", "", "bottom-bracket", "bottom-bracket-shell"), false},
		{"freewheel with the thread of a cup", rowOf("1.37 in x 24 tpi", "drive side of the rear hub", "", "hub-rear"), false},
		{"cup that is right-hand on both sides", rowOf("36 mm x 24 tpi", "drive side of the shell", "", "bottom-bracket"), false},
		{"drive side cup of a wide shell", rowOf("M47x1", "drive side of the shell", "", "bottom-bracket"), true},
		{"drive side cup of a wider shell", rowOf("M48x1.5", "drive side of the shell", "", "bottom-bracket"), true},
		{"lockring of a fixed sprocket", rowOf("1.29 in x 24 tpi", "rear hub", "", "hub-rear"), true},
		{"left pedal", rowOf("9/16 in x 20 tpi", "left crank arm", "", "pedal-left", "crank-arm-left"), true},
		{"right pedal", rowOf("9/16 in x 20 tpi", "right crank arm", "", "pedal-right", "crank-arm-right"), false},
		{"left pedal of a one-piece crank", rowOf("1/2 in x 20 tpi", "left crank arm", "", "pedal-left"), true},
		{"old left pedal", rowOf("M14x1.25", "left crank arm", "", "pedal-left"), true},
		{"row that says so", rowOf("M12x1", "somewhere", "left-hand, tight is counterclockwise", "frame"), true},
		{"row that tells of others", rowOf("M12x1", "somewhere", "not the left-hand one of old frames", "frame"), false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var want []string
			if tc.left {
				want = []string{"[0].thread missing-hand"}
			}
			require.Equal(t, want, rulesOf(procedure.CheckJoints([]procedure.JointRow{tc.row}, load(t).Vocabulary)))
			mended := tc.row
			mended.Thread += " LH"
			require.NoError(t, procedure.CheckJoints([]procedure.JointRow{mended}, load(t).Vocabulary))
		})
	}
}

// Every left-hand thread that the list of cycle threads knows is refused in a
// row of its place without the hand, and no right-hand one is.
func TestHandsOfTheListOfThreads(t *testing.T) {
	file, err := os.Open("../../testdata/vectors/joint_threads_cycle.csv")
	require.NoError(t, err)
	defer func() { require.NoError(t, file.Close()) }()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	limits := map[string]string{"PED": "pedal-", "BB": "bottom-bracket", "TRK": "hub-rear", "FW": "hub-rear"}
	checked := 0
	for _, r := range rows[1:] {
		id, side, major, pitch, tpi, hand := r[0], r[2], r[3], r[4], r[5], r[6]
		kind, _, _ := strings.Cut(strings.TrimSuffix(strings.ReplaceAll(id, "PED14", "PED"), "x"), "-")
		role, ok := limits[kind]
		if !ok {
			continue
		}
		if kind == "PED" {
			role += strings.Fields(side)[0]
		}
		thread := "M" + strings.TrimRight(strings.TrimRight(major, "0"), ".") + "x" + strings.TrimRight(strings.TrimRight(pitch, "0"), ".")
		if tpi != "" {
			thread = map[string]string{"34.798": "1.37 in", "36.000": "36 mm", "34.925": "1.375 in", "32.766": "1.29 in", "14.287": "9/16 in"}[major] + " x " + tpi + " tpi"
		}
		_, err := joint.ParseThread(thread)
		require.NoError(t, err, id)
		found := rulesOf(procedure.CheckJoints([]procedure.JointRow{rowOf(thread, side, "", role)}, load(t).Vocabulary))
		require.Equal(t, hand == "LH", len(found) == 1 && strings.HasSuffix(found[0], "missing-hand"), "%s: %v", id, found)
		checked++
	}
	require.Equal(t, 16, checked)
}

// Where the bike says the thread, the question has to ask for its hand.
func TestQuestionsAskForTheHand(t *testing.T) {
	row := rowOf("", "rear end", "left-hand where the thread says so", "hanger")
	row.ThreadFrom = "hanger.bolt_thread"
	require.NoError(t, procedure.CheckJoints([]procedure.JointRow{row}, load(t).Vocabulary))
	row.ThreadFrom = "cassette-lockring.thread" // asks for the pitch alone
	require.Equal(t, []string{"[0].thread_from hand-not-asked"}, rulesOf(procedure.CheckJoints([]procedure.JointRow{row}, load(t).Vocabulary)))
}
