package joint

import "strconv"

// String writes t the one way this package writes it: "M5x0.8", "M30.6x1",
// "1.37 in x 24 tpi LH", "9/16 in x 20 tpi", "36 mm x 24 tpi". Right-hand is
// not written. A pitch counted in turns per inch keeps that count; the diameter
// beside it is an inch fraction where it is one (down to 1/64), millimeters
// where they have at most one decimal, else decimal inches where four places
// hold it, else millimeters. "No thread" is "". [ParseThread] reads every form
// back to the same thread.
func (t Thread) String() string {
	if t.IsZero() {
		return ""
	}
	text := t.metric()
	if n := t.TurnsPerInch(); n != 0 {
		text = t.diameterText() + " x " + strconv.Itoa(n) + " tpi"
	}
	if t.hand == LeftHand {
		text += " LH"
	}
	return text
}

func (t Thread) metric() string {
	return "M" + t.diameter.String() + "x" + t.pitch.String()
}

// diameterText writes the diameter of a thread counted in turns per inch.
func (t Thread) diameterText() string {
	inches := reduced(t.diameter.Num*5, t.diameter.Den*127)
	if inches.Den <= 64 && inches.Den&(inches.Den-1) == 0 {
		return inchFraction(inches) + " in"
	}
	if text, ok := t.diameter.decimal(1); ok {
		return text + " mm"
	}
	if text, ok := inches.decimal(4); ok {
		return text + " in"
	}
	return t.diameter.String() + " mm"
}

// inchFraction writes 9/8 as "1-1/8", as a rule or a drill is marked.
func inchFraction(r Ratio) string {
	whole, rest := r.Num/r.Den, r.Num%r.Den
	if rest == 0 {
		return strconv.FormatInt(whole, 10)
	}
	text := strconv.FormatInt(rest, 10) + "/" + strconv.FormatInt(r.Den, 10)
	if whole == 0 {
		return text
	}
	return strconv.FormatInt(whole, 10) + "-" + text
}

// MarshalText writes t as [Thread.String] does.
func (t Thread) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads t as [ParseThread] does; empty text is "no thread".
func (t *Thread) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*t = Thread{}
		return nil
	}
	u, err := ParseThread(string(text))
	if err != nil {
		return err
	}
	*t = u
	return nil
}
