package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A number and its unit stay on one line, however wide that is.
func TestWrapHoldsNumbersAndUnits(t *testing.T) {
	for _, together := range []string{
		"±25 %;", "5.2 N·m", "(7.5 kN", "410 MPa):", "1/2 in", "24 tpi", "36.6 mm²", "18 deg C,", "20 °C", "-3 lbf·in.",
		"14.1 mm ± 0.1 mm", "90 kg", "2 turns", "1 turn",
	} {
		t.Run(together, func(t *testing.T) {
			for width := 1; width < 40; width++ {
				lines := wrap("the preload scatters by "+together+" unlubricated", width)
				require.True(t, holdsLine(lines, together), "%q", lines)
			}
		})
	}
	require.Equal(t, []string{"step 5", "then", "deg C"}, wrap("step 5 then deg C", 6), "nothing else is held")
}

func holdsLine(lines []string, text string) bool {
	for _, line := range lines {
		if strings.Contains(line, text) {
			return true
		}
	}
	return false
}

// Wrapping loses no word, and no line is wider than asked unless it can't be broken.
func TestWrapProperties(t *testing.T) {
	word := rapid.SampledFrom([]string{"5", "±", "%", "N·m", "deg", "C", "a", "preload", "0.25", "(14", "mm)", "±25"})
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(word, 1, 30).Draw(t, "words")
		width := rapid.IntRange(1, 80).Draw(t, "width")
		lines := wrap(strings.Join(words, " "), width)
		require.Equal(t, words, strings.Fields(strings.Join(lines, " ")))
		for _, line := range lines {
			if utf8.RuneCountInString(line) > width {
				require.NotContains(t, strings.ReplaceAll(holdUnits(line), heldSpace, ""), " ", "%q could be broken", line)
			}
		}
	})
}
