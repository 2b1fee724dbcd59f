package procedure_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
)

// The digest of a sheet is written out by hand; encoding/json is what it is
// held to.
func requireDigestOfJSON(t tester, s *procedure.Sheet) {
	t.Helper()
	d := cups()
	p, err := procedure.NewPlan(resolve(t, d), s, nil, monday, procedure.Policy{})
	require.NoError(t, err)
	data, err := json.Marshal(s)
	require.NoError(t, err)
	sum := sha256.Sum256(data)
	require.Equal(t, hex.EncodeToString(sum[:]), p.SheetDigest, "%s", data)
}

func TestSheetDigestIsThatOfItsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-z0-9 .<>&"\\·é\x{2028}\t]{0,12}`),
			rapid.Just(""), rapid.Just("\xff\x00"))
		figure := rapid.Custom(func(t *rapid.T) procedure.PrintedFigure {
			return procedure.PrintedFigure{Joint: text.Draw(t, "joint"), Marking: text.Draw(t, "marking"),
				Seen: procedure.Confidence(rapid.Uint8Range(0, 6).Draw(t, "seen")), Where: text.Draw(t, "where"),
				PasteLess: rapid.IntRange(-5, 120).Draw(t, "paste less")}
		})
		part := rapid.Custom(func(t *rapid.T) procedure.Part {
			return procedure.Part{Role: text.Draw(t, "role"), Material: text.Draw(t, "material"),
				Is: rapid.MapOfN(text, text, 0, 4).Draw(t, "is"), Printed: rapid.SliceOfN(figure, 0, 3).Draw(t, "printed")}
		})
		requireDigestOfJSON(t, &procedure.Sheet{Build: text.Draw(t, "build"), Label: text.Draw(t, "label"),
			Invented: rapid.Bool().Draw(t, "invented"), Parts: rapid.SliceOfN(part, 0, 4).Draw(t, "parts")})
	})
}

// A field that is added to a sheet and not to its digest is found here.
func TestSheetDigestCoversEveryField(t *testing.T) {
	var full procedure.Sheet
	requireDigestOfJSON(t, &full)
	fill(t, reflect.ValueOf(&full).Elem())
	requireDigestOfJSON(t, &full)
}

// fill gives every field a value other than zero.
func fill(t *testing.T, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(t, v.Field(i))
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(t, v.Index(0))
		fill(t, v.Index(1))
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(t, key)
		fill(t, value)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	case reflect.String:
		v.SetString("a text")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		v.SetInt(1)
	case reflect.Uint8:
		v.SetUint(1)
	default:
		t.Fatalf("no value for a %v: say here how such a field is filled", v.Type())
	}
}
