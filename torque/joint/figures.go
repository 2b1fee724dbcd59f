package joint

import (
	"math"
	"strconv"
)

// FiguresDeserved returns how many figures a banded result deserves: the fewest
// whose rounding, at worst half a unit of the last in a figure that starts with
// 1, is no more than half the width of the band. ±25 % and ±35 % deserve two,
// ±50 % one. A band of no width deserves them all and gives 15.
func FiguresDeserved(b Band) int {
	share := b.HalfWidth()
	if !(share > 0) {
		return 15
	}
	// 0.5·10^(1−n) ≤ share
	n := 1 + int(math.Ceil(math.Log10(0.5/share)-1e-9))
	return min(15, max(1, n))
}

// ForceText writes a force for people, "7.5 kN (5.7 kN to 9.4 kN)", with the
// given number of figures; 0 and less mean as many as it deserves. It reports
// whether more were asked for than the scatter deserves, which calls for the
// warning [MoreFiguresThanScatter].
func ForceText(newtons Band, figures int) (text string, isTooFine bool) {
	deserved := FiguresDeserved(newtons)
	if figures <= 0 {
		figures = deserved
	}
	text = force(newtons.Nominal, figures)
	if newtons.Low < newtons.High {
		text += " (" + force(newtons.Low, figures) + " to " + force(newtons.High, figures) + ")"
	}
	return text, figures > deserved
}

func force(newtons float64, figures int) string {
	if math.Abs(newtons) < 1000 {
		return rounded(newtons, figures) + " N"
	}
	return rounded(newtons/1000, figures) + " kN"
}

// rounded writes x to a number of figures without an exponent: 1852 to two
// figures is "1900".
func rounded(x float64, figures int) string {
	if x == 0 || !isFinite(x) {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	exact, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', figures-1, 64), 64)
	if err != nil {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	places := figures - 1 - int(math.Floor(math.Log10(math.Abs(exact))+1e-12))
	return strconv.FormatFloat(exact, 'f', max(0, places), 64)
}
