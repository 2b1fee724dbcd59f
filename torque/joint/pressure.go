package joint

import (
	"errors"
	"fmt"
	"strings"
)

// ErrMaterial says that a text names no material known here.
var ErrMaterial = errors.New("no such material")

// A Material is what a part under a head or under a spline is made of. It is
// comparable. The zero Material is "not known": pressures are then worked out
// and compared with nothing.
type Material struct{ number uint8 } // 1 + index into materials

const (
	fromVDI2003 = "VDI 2230-1:2003 table A9, as quoted in a public manufacturer table"
	fromVDIStar = fromVDI2003 + "; marked there as not yet verified by recent research"
	fromVDI1986 = "VDI 2230:1986, as quoted in a public manufacturer table"
)

// materials lists limiting surface pressures p_G in MPa. Each name stands once;
// the alias is what people say.
var materials = [...]struct {
	name, alias string
	pressureMPa float64
	source      string
}{
	{"AW-7075", "7075", 410, fromVDIStar},
	{"AW-6082", "6082", 260, fromVDIStar},
	{"AW-6061", "6061", 260, fromVDIStar + "; figure of AW-6082, a like alloy"},
	{"AW-5083", "5083", 230, fromVDIStar},
	{"AlSi9Cu3", "die-cast aluminum", 290, fromVDIStar},
	{"TiAl6V4", "titanium", 890, fromVDIStar},
	{"titanium, unalloyed", "", 300, fromVDI1986},
	{"42CrMo4", "steel", 850, fromVDI1986},
	{"34CrMo4", "", 870, fromVDIStar},
	{"16MnCr5", "", 900, fromVDIStar},
	{"C45", "", 700, fromVDI1986},
	{"C45 Q+T", "", 630, fromVDIStar},
	{"S235JR", "", 490, fromVDI2003},
	{"S355J0", "", 760, fromVDI2003},
	{"St 37", "", 260, fromVDI1986},
	{"1.4303", "", 630, fromVDI2003},
	{"1.4401", "stainless steel", 460, fromVDIStar},
	{"EN-GJL-250", "cast iron", 900, fromVDI2003},
}

// ParseMaterial reads a material by its name or by the word in use, in any case:
// "AW-7075", "7075", "titanium" (TiAl6V4), "steel" (42CrMo4, quenched and
// tempered to 1000 MPa). Empty text is "not known". Errors wrap [ErrMaterial].
func ParseMaterial(text string) (Material, error) {
	name := strings.TrimSpace(text)
	if name == "" {
		return Material{}, nil
	}
	for i, row := range materials {
		if strings.EqualFold(row.name, name) || row.alias != "" && strings.EqualFold(row.alias, name) {
			return Material{uint8(i + 1)}, nil
		}
	}
	return Material{}, fmt.Errorf("%w: %q; known are %s", ErrMaterial, clip(text), materialNames())
}

func materialNames() string {
	var names []string
	for _, row := range materials {
		names = append(names, row.name)
	}
	return strings.Join(names, ", ")
}

// Materials returns every material known here, as a list of the caller's own.
func Materials() []Material {
	list := make([]Material, len(materials))
	for i := range list {
		list[i].number = uint8(i + 1)
	}
	return list
}

// IsZero reports whether the material is not known.
func (m Material) IsZero() bool { return m.number == 0 }

// String returns the name of the material; of "not known" it is "".
func (m Material) String() string {
	if m.IsZero() || int(m.number) > len(materials) {
		return ""
	}
	return materials[m.number-1].name
}

// LimitingPressureMPa returns the surface pressure p_G a part of this material
// bears under a head without creeping, 0 for "not known".
func (m Material) LimitingPressureMPa() float64 {
	if m.IsZero() || int(m.number) > len(materials) {
		return 0
	}
	return materials[m.number-1].pressureMPa
}

// Source returns where the limiting pressure comes from.
func (m Material) Source() string {
	if m.IsZero() || int(m.number) > len(materials) {
		return ""
	}
	return materials[m.number-1].source
}

// MarshalText writes m as [Material.String] does.
func (m Material) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads m as [ParseMaterial] does.
func (m *Material) UnmarshalText(text []byte) error {
	parsed, err := ParseMaterial(string(text))
	if err != nil {
		return err
	}
	*m = parsed
	return nil
}

// standing compares a pressure with what the material bears.
func (m Material) standing(pressure Band) Standing {
	if m.IsZero() {
		return NotCompared
	}
	return pressure.Against(m.LimitingPressureMPa())
}
