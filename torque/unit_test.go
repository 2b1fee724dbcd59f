package torque_test

import (
	"encoding/json"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// unitByUCUM finds a unit by its code, for the columns of the data files.
func unitByUCUM(code string) (torque.Unit, bool) {
	for _, unit := range torque.Units() {
		if unit.UCUM() == code {
			return unit, true
		}
	}
	return 0, false
}

// UCUM 2.2 (2024-06-17): every row of units_ucum.csv that is a unit of torque
// and one of ours has its exact factor; every other code is refused.
func TestUnitVectorsUCUM(t *testing.T) {
	notOurs := map[string]bool{"dyn.cm": true} // a torque, but not a unit of this package
	found := 0
	for _, r := range vectors(t, "units_ucum") {
		t.Run(r["id"]+" "+r["code"], func(t *testing.T) {
			unit, err := torque.ParseUCUM(r["code"])
			if r["quantity"] != "torque" || r["valid_ucum"] != "yes" || notOurs[r["code"]] {
				require.ErrorIs(t, err, torque.ErrUnknownUnit)
				return
			}
			found++
			require.NoError(t, err)
			require.Equal(t, r["factor_fraction"], unit.Factor().String())
			exact, ends := torque.NewExact(unit.Factor(), torque.NewtonMeters).Decimal()
			require.True(t, ends)
			require.Equal(t, r["factor_to_N_m"], exact)
		})
	}
	// Only kN·m has no row of its own.
	require.Equal(t, len(torque.Units())-1, found)
	require.Equal(t, "1000/1", torque.KilonewtonMeters.Factor().String())
}

// The definitions of NIST SP 811 (2008), appendix B, multiplied out here a
// second time, in rationals instead of whole numbers of powers of ten.
func TestFactorsFollowFromTheDefinitions(t *testing.T) {
	number := func(text string) *big.Rat {
		value, ok := new(big.Rat).SetString(text)
		require.True(t, ok)
		return value
	}
	product := func(factors ...string) *big.Rat {
		all := big.NewRat(1, 1)
		for _, factor := range factors {
			all.Mul(all, number(factor))
		}
		return all
	}
	const pound, inch, gravity = "0.45359237", "0.0254", "9.80665"
	for unit, want := range map[torque.Unit]*big.Rat{
		torque.NewtonMeters:             product("1"),
		torque.MillinewtonMeters:        product("1/1000"),
		torque.NewtonMillimeters:        product("1/1000"),
		torque.NewtonCentimeters:        product("1/100"),
		torque.CentinewtonMeters:        product("1/100"),
		torque.DecanewtonMeters:         product("10"),
		torque.KilonewtonMeters:         product("1000"),
		torque.PoundForceInches:         product(pound, gravity, inch),
		torque.PoundForceFeet:           product(pound, gravity, inch, "12"),
		torque.OunceForceInches:         product(pound, "1/16", gravity, inch),
		torque.GramForceCentimeters:     product("1/1000", gravity, "1/100"),
		torque.KilogramForceCentimeters: product(gravity, "1/100"),
		torque.KilogramForceMeters:      product(gravity),
	} {
		require.Equal(t, want.String(), unit.Factor().String(), unit.Name())
	}
}

func TestParseUnit(t *testing.T) {
	for want, spellings := range map[torque.Unit]string{
		torque.NewtonMeters:             "N·m N.m Nm N-m N*m N⋅m Newton-meter 牛米 Н·м",
		torque.MillinewtonMeters:        "mN·m mN.m mNm",
		torque.NewtonMillimeters:        "N·mm N.mm Nmm",
		torque.NewtonCentimeters:        "N·cm N.cm Ncm",
		torque.CentinewtonMeters:        "cN·m cN.m cNm",
		torque.DecanewtonMeters:         "daN·m daN.m daNm",
		torque.KilonewtonMeters:         "kN·m kN.m kNm",
		torque.PoundForceInches:         "lbf·in [lbf_av].[in_i] lbf.in lbf-in in.lbf in-lb in-lbs IN-LB inlb",
		torque.PoundForceFeet:           "lbf·ft [lbf_av].[ft_i] lbf.ft lbf-ft ft-lb ft.lbs foot-pounds",
		torque.OunceForceInches:         "ozf·in [oz_av].[g].[in_i] ozf.in oz-in in-oz",
		torque.GramForceCentimeters:     "gf·cm gf.cm gf-cm",
		torque.KilogramForceCentimeters: "kgf·cm kgf.cm kgf-cm",
		torque.KilogramForceMeters:      "kgf·m kgf.m kgf-m kp.m",
	} {
		for _, spelling := range strings.Fields(spellings) {
			got, err := torque.ParseUnit(spelling)
			require.NoError(t, err, spelling)
			require.Equal(t, want, got, spelling)
		}
	}
	spaced, err := torque.ParseUnit("lbf in")
	require.NoError(t, err)
	require.Equal(t, torque.PoundForceInches, spaced)
}

func TestParseUnitRefuses(t *testing.T) {
	for _, text := range []string{
		"", " ", "nm", "nM", "NM", "n.m", "N", "mN", "J", "lb/in", "N/m", "kg.cm", "kgf.mm", "in", "5 Nm", "Nm max",
		"[lb_av].[in_i]", "[ozf_av].[in_i]", "N.m2", "N.m.s", "Nм", "in-Ib", "foo", "N·m\u200b",
	} {
		t.Run(text, func(t *testing.T) {
			_, err := torque.ParseUnit(text)
			require.ErrorIs(t, err, torque.ErrUnknownUnit)
		})
	}
	_, err := torque.ParseUnit("nm")
	require.ErrorContains(t, err, "N·m", "the error names what is accepted")
	_, err = torque.ParseUCUM("Nm")
	require.ErrorIs(t, err, torque.ErrUnknownUnit)
	require.ErrorContains(t, err, "write N.m")
}

func TestUnitsRoundTrip(t *testing.T) {
	require.Equal(t, torque.NewtonMeters, torque.Unit(0))
	for _, unit := range torque.Units() {
		require.True(t, unit.IsValid())
		for _, text := range []string{unit.UCUM(), unit.Symbol(), strings.ReplaceAll(unit.Symbol(), "·", ".")} {
			got, err := torque.ParseUnit(text)
			require.NoError(t, err)
			require.Equal(t, unit, got, text)
		}
		data, err := json.Marshal(unit)
		require.NoError(t, err)
		var got torque.Unit
		require.NoError(t, json.Unmarshal(data, &got))
		require.Equal(t, unit, got)
	}
}

func TestInvalidUnitIsHarmless(t *testing.T) {
	bad := torque.Unit(200)
	require.False(t, bad.IsValid())
	require.Equal(t, "unknown unit", bad.String())
	require.Zero(t, bad.Factor().Sign())
	_, err := json.Marshal(bad)
	require.ErrorIs(t, err, torque.ErrUnknownUnit)
	_, err = torque.ParseFigure("5", bad)
	require.ErrorIs(t, err, torque.ErrUnknownUnit)
	_, err = torque.Convert("5", torque.NewtonMeters, bad)
	require.ErrorIs(t, err, torque.ErrUnknownUnit)
	require.Equal(t, "0", torque.NewtonMeter.In(bad).Text())
}
