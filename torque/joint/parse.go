package joint

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// ErrThreadSyntax says that a text is not written as a thread.
var ErrThreadSyntax = errors.New("not written as a thread")

// howToWrite ends the message of every text that could not be read.
const howToWrite = `write it like "M6x1", "1.37 in x 24 tpi LH", "36 mm x 24 tpi" or "1/4-20"`

// spellings maps what people type to the few signs the parser knows.
var spellings = strings.NewReplacer(
	"×", "x", "″", " in", "”", " in", `"`, " in", "''", " in",
	",", ".", "\u00a0", " ", "\u202f", " ", "\t", " ", "–", "-", "‑", "-",
	"inches", "in", "inch", "in", "t.p.i.", "tpi",
	"left-hand", "lh", "left hand", "lh", "right-hand", "rh", "right hand", "rh",
)

// ParseThread reads a thread as it stands on drawings and parts.
//
//   - metric: "M6x1", "M6×1", "M5x0.8 LH", "M30.6x1", "6 mm x 1 mm", or the
//     size alone ("M6"), which by ISO 261 means the coarse pitch of that size;
//   - turns per inch: "1.37 in x 24 tpi LH", "9/16in×20tpi", "1-1/8 in x 26 tpi";
//   - mixed: "36 mm x 24 tpi";
//   - inch sizes with a hyphen: "1/4-20", "#10-32", also "1/4-20 UNC" where the
//     size is of that series.
//
// RH or LH may follow; without one the thread is right-hand. A decimal comma is
// read as a point. Errors wrap [ErrThreadSyntax] or [ErrThreadRange], name what
// is wrong and say how to write it.
func ParseThread(text string) (Thread, error) {
	t, err := parseThread(text)
	if err != nil {
		return Thread{}, fmt.Errorf("parse thread %q: %w", clip(text), err)
	}
	return t, nil
}

// clip keeps a stray megabyte out of an error message.
func clip(text string) string {
	if len(text) > 60 {
		return strings.ToValidUTF8(text[:60], "") + "…"
	}
	return text
}

func syntax(format string, args ...any) error {
	return fmt.Errorf("%w: %s; %s", ErrThreadSyntax, fmt.Sprintf(format, args...), howToWrite)
}

func parseThread(text string) (Thread, error) {
	if len(text) > 100 {
		return Thread{}, syntax("too long")
	}
	plain := strings.TrimSpace(spellings.Replace(strings.ToLower(text)))
	plain, hand := cutHand(plain)
	if plain == "" {
		return Thread{}, syntax("empty")
	}
	diameter, pitch, err := parseSizeAndPitch(plain)
	if err != nil {
		return Thread{}, err
	}
	return NewThread(diameter, pitch, hand)
}

// cutHand takes a closing RH or LH off, set apart by a space or a hyphen.
func cutHand(text string) (string, Hand) {
	for suffix, hand := range map[string]Hand{"lh": LeftHand, "rh": RightHand} {
		if rest, ok := strings.CutSuffix(text, suffix); ok {
			return strings.TrimRight(rest, " -"), hand
		}
	}
	return text, RightHand
}

func parseSizeAndPitch(text string) (diameter, pitch Ratio, err error) {
	size, turns, ok := strings.Cut(text, "x")
	switch {
	case ok:
		return parsePair(strings.TrimSpace(size), strings.TrimSpace(turns))
	case strings.HasPrefix(text, "m"):
		return parseCoarse(text)
	default:
		return parseHyphen(text)
	}
}

// parsePair reads "<size> x <pitch>".
func parsePair(size, turns string) (diameter, pitch Ratio, err error) {
	number, isMetric := strings.CutPrefix(size, "m")
	if isMetric && strings.HasSuffix(number, "in") {
		return diameter, pitch, syntax("%q mixes M and inches", size)
	}
	if isMetric {
		number = strings.TrimSuffix(number, "mm") + " mm"
	}
	if diameter, err = parseLength(number); err != nil {
		return diameter, pitch, err
	}
	if count, ok := strings.CutSuffix(turns, "tpi"); ok {
		pitch, err = parseTurns(strings.TrimSpace(count))
		return diameter, pitch, err
	}
	if isMetric && !strings.HasSuffix(turns, "mm") && !strings.HasSuffix(turns, "in") {
		turns += " mm"
	}
	pitch, err = parseLength(turns)
	return diameter, pitch, err
}

// parseCoarse reads a metric size alone.
func parseCoarse(text string) (diameter, pitch Ratio, err error) {
	if diameter, err = parseLength(strings.TrimSuffix(text[1:], "mm") + " mm"); err != nil {
		return diameter, pitch, err
	}
	pitch, ok := coarsePitch(diameter)
	if !ok {
		return diameter, pitch, syntax("M%s has no coarse pitch in ISO 261, give the pitch", diameter)
	}
	return diameter, pitch, nil
}

// parseHyphen reads "1/4-20", "#10-32" and the same with UNC or UNF.
func parseHyphen(text string) (diameter, pitch Ratio, err error) {
	if text, err = cutSeries(text); err != nil {
		return diameter, pitch, err
	}
	at := strings.LastIndexByte(text, '-')
	if at < 0 {
		return diameter, pitch, syntax("no pitch given")
	}
	size := strings.TrimSpace(text[:at])
	if number, ok := strings.CutPrefix(size, "#"); ok {
		diameter, err = numberedSize(number)
	} else {
		diameter, err = parseLength(strings.TrimSuffix(size, "in") + " in")
	}
	if err != nil {
		return diameter, pitch, err
	}
	pitch, err = parseTurns(strings.TrimSpace(text[at+1:]))
	return diameter, pitch, err
}

// numberedSize is the diameter of a numbered inch screw: 0.060 in + 0.013 in
// for each number (ASME B1.1, numbered sizes 0 to 12).
func numberedSize(number string) (Ratio, error) {
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 12 {
		return Ratio{}, syntax("#%s is not a numbered size from #0 to #12", number)
	}
	return reduced(int64(60+13*n)*127, 1000*5), nil
}

func parseTurns(text string) (Ratio, error) {
	n, err := strconv.ParseUint(text, 10, 16)
	if err != nil || n == 0 || n > 1000 {
		return Ratio{}, syntax("%q is not a whole number of turns per inch", text)
	}
	return reduced(127, 5*int64(n)), nil
}

// parseLength reads a number with its unit, mm or in, exactly.
func parseLength(text string) (Ratio, error) {
	text = strings.TrimSpace(text)
	if number, ok := strings.CutSuffix(text, "mm"); ok {
		return parseNumber(strings.TrimSpace(number))
	}
	number, ok := strings.CutSuffix(text, "in")
	if !ok {
		return Ratio{}, syntax("%q has no unit", text)
	}
	r, err := parseNumber(strings.TrimSpace(number))
	if err != nil {
		return Ratio{}, err
	}
	return reduced(r.Num*127, r.Den*5), nil
}

// parseNumber reads "1.37", "9/16" and "1-1/8".
func parseNumber(text string) (Ratio, error) {
	top, bottom, isFraction := strings.Cut(text, "/")
	if !isFraction {
		return parseDecimal(text)
	}
	var whole uint64
	if w, rest, ok := cutAny(top, "- "); ok {
		n, err := strconv.ParseUint(w, 10, 16)
		if err != nil {
			return Ratio{}, syntax("%q is not a number", text)
		}
		whole, top = n, rest
	}
	num, err1 := strconv.ParseUint(top, 10, 16)
	den, err2 := strconv.ParseUint(bottom, 10, 16)
	if err1 != nil || err2 != nil || den == 0 {
		return Ratio{}, syntax("%q is not a fraction", text)
	}
	return reduced(int64(whole*den+num), int64(den)), nil
}

func cutAny(text, separators string) (before, after string, found bool) {
	if at := strings.IndexAny(text, separators); at >= 0 {
		return text[:at], text[at+1:], true
	}
	return text, "", false
}

// parseDecimal reads up to six digits before the point and six after it.
func parseDecimal(text string) (Ratio, error) {
	whole, places, _ := strings.Cut(text, ".")
	if whole == "" || len(whole) > 6 || len(places) > 6 || strings.HasSuffix(text, ".") {
		return Ratio{}, syntax("%q is not a number", text)
	}
	n, err := strconv.ParseUint(whole+places, 10, 63)
	if err != nil {
		return Ratio{}, syntax("%q is not a number", text)
	}
	den := int64(1)
	for range places {
		den *= 10
	}
	return reduced(int64(n), den), nil
}
