package joint

import (
	"errors"
	"fmt"
	"strings"
)

// ErrClass says that a text names no strength class.
var ErrClass = errors.New("no such strength class")

// A Class is a strength class of fasteners as marked on them: "8.8" (ISO 898-1),
// "A2-70" (ISO 3506-1), "AL6" (ISO 8839). It is comparable. The zero Class is
// "not known": nothing about strength is then worked out.
type Class struct {
	number uint8 // 1 + index into classes
	grade  uint8 // index into grades, for the austenitic classes
}

// ParseClass reads a class as it is marked: "8.8", "10.9", "A2-70", "A4-80",
// "AL6", "TI2", "CU2", in any case; "A-70" is class 70 of an austenitic grade
// that is not told. Empty text is "not known". Errors wrap [ErrClass].
func ParseClass(text string) (Class, error) {
	name := strings.ToUpper(strings.TrimSpace(text))
	if name == "" {
		return Class{}, nil
	}
	grade, number, isGraded := strings.Cut(name, "-")
	for i, row := range classes {
		if row.name == name && !row.isAustenitic {
			return Class{number: uint8(i + 1)}, nil
		}
		if !isGraded || !row.isAustenitic || row.name != number {
			continue
		}
		for j, g := range grades {
			if g == grade {
				return Class{number: uint8(i + 1), grade: uint8(j)}, nil
			}
		}
	}
	return Class{}, fmt.Errorf(`%w: %q; known are 4.6 to 12.9, A2-70 and the like, AL1 to AL6, TI1, TI2, CU1 to CU7`, ErrClass, clip(text))
}

// IsZero reports whether the class is not known.
func (c Class) IsZero() bool { return c.number == 0 }

// String returns the class as marked; of "not known" it is "".
func (c Class) String() string {
	if c.IsZero() || int(c.number) > len(classes) {
		return ""
	}
	row := classes[c.number-1]
	if row.isAustenitic && int(c.grade) < len(grades) {
		return grades[c.grade] + "-" + row.name
	}
	return row.name
}

// MarshalText writes c as [Class.String] does.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads c as [ParseClass] does.
func (c *Class) UnmarshalText(text []byte) error {
	parsed, err := ParseClass(string(text))
	if err != nil {
		return err
	}
	*c = parsed
	return nil
}

// Classes returns every class known here, as a list of the caller's own.
func Classes() []Class {
	var list []Class
	for i, row := range classes {
		if !row.isAustenitic {
			list = append(list, Class{number: uint8(i + 1)})
			continue
		}
		for j := range grades {
			list = append(list, Class{number: uint8(i + 1), grade: uint8(j)})
		}
	}
	return list
}
