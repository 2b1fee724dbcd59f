package card

import (
	"fmt"
	"strings"

	"github.com/boombuler/barcode/qr"
)

// quiet is the width of the empty frame round a QR code, in modules
// (ISO/IEC 18004:2015, 6.3.8; the number of the clause from memory).
const quiet = 4

// A code is a QR code as the path of an SVG, a unit a module.
type code struct {
	// Size is the side with the empty frame, Path what is black.
	Size int
	Path string
}

// newCode encodes a text at the level that restores about a quarter of the code
// words, since cards get greasy (level Q, ISO/IEC 18004:2015, 7.5.1; numbers of
// clauses of the standard from memory).
func newCode(text string) (*code, error) {
	modules, err := qr.Encode(text, qr.Q, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("encode %q as QR: %w", text, err)
	}
	side := modules.Bounds().Dx()
	var path strings.Builder
	for y := range side {
		for x := 0; x < side; x++ {
			from := x
			for x < side && isDark(modules.At(x, y)) {
				x++
			}
			if x > from {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
			}
		}
	}
	return &code{Size: side + 2*quiet, Path: path.String()}, nil
}

func isDark(c interface{ RGBA() (r, g, b, a uint32) }) bool {
	r, _, _, _ := c.RGBA()
	return r == 0
}
