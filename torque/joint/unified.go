package joint

import (
	"slices"
	"strings"
)

// unified lists the unified threads whose series this package can confirm.
//
// Source: ASME B1.1, as tabulated in public engineering tables; the rows stand
// in testdata/vectors/joint_threads_inch.csv.
var unified = map[string][]string{
	"unc": {
		"#4-40", "#5-40", "#6-32", "#8-32", "#10-24", "1/4-20", "5/16-18", "3/8-16",
		"1/2-13", "9/16-12", "5/8-11", "3/4-10", "1-8",
	},
	"unf": {
		"#6-40", "#10-32", "#12-28", "3/8-24", "7/16-20", "1/2-20", "5/8-18", "7/8-14",
		"1-12",
	},
}

// cutSeries takes a closing UNC or UNF off and refuses it where the size is not
// known to belong to that series: one of the two was misread.
func cutSeries(text string) (string, error) {
	for _, series := range []string{"unc", "unf"} {
		rest, ok := strings.CutSuffix(text, series)
		if !ok {
			continue
		}
		rest = strings.TrimRight(rest, " ")
		if !slices.Contains(unified[series], rest) {
			return "", syntax("%s is not in the %s series known here", rest, strings.ToUpper(series))
		}
		return rest, nil
	}
	return text, nil
}
