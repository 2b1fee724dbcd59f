package procedure

import (
	"maps"
	"slices"
	"strings"
)

// meant offers the known word that was probably meant, such as
// " (did you mean grease?)"; empty when none is near.
func meant(word string, known []string) string {
	best, distance := "", len(word)/3+1
	for _, k := range known {
		if k == "" || k == word {
			continue
		}
		d := editDistance(word, k, distance)
		if len(word) > 3 && strings.HasPrefix(k, word) {
			d = min(d, 1) // cut short, as titan for titanium
		}
		if d < distance || d == distance && best == "" {
			best, distance = k, d
		}
	}
	if best == "" {
		return ""
	}
	return " (did you mean " + best + "?)"
}

// editDistance counts the single letters to insert, drop, change or swap with
// their neighbor to turn a into b (the restricted Damerau-Levenshtein
// distance). It gives up above limit and returns limit+1.
func editDistance(a, b string, limit int) int {
	if abs(len(a)-len(b)) > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(b)], limit+1)
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// keysOf returns the keys of m in order, so that messages do not depend on
// the order of a map.
func keysOf[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
