package procedure

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// digest names the content of the sheet: the SHA-256 of its JSON, as 64
// hexadecimal digits. Every plan needs it, so the JSON is written out here; it
// is byte for byte what encoding/json makes of a Sheet, to which a test holds
// it field by field.
func (s *Sheet) digest() string {
	var room [2048]byte // on the stack; what is longer moves to the heap
	h := sha256.New()
	s.writeJSON(room[:0], func(b []byte) []byte {
		h.Write(b) // a hash takes everything
		return b[:0]
	})
	var sum [sha256.Size]byte
	return hex.EncodeToString(h.Sum(sum[:0]))
}

// writeJSON writes the sheet part by part into b, and hands on to take what is
// written so far; take returns the buffer to go on with.
func (s *Sheet) writeJSON(b []byte, take func([]byte) []byte) {
	b = appendString(append(b, `{"build":`...), s.Build)
	if s.Label != "" {
		b = appendString(append(b, `,"label":`...), s.Label)
	}
	if s.Invented {
		b = append(b, `,"invented":true`...)
	}
	b = append(b, `,"parts":`...)
	if s.Parts == nil {
		take(append(b, "null}"...))
		return
	}
	b = append(b, '[')
	for i := range s.Parts {
		if i > 0 {
			b = append(b, ',')
		}
		b = take(s.Parts[i].appendJSON(b))
	}
	take(append(b, "]}"...))
}

func (p *Part) appendJSON(b []byte) []byte {
	b = appendString(append(b, `{"role":`...), p.Role)
	b = appendString(append(b, `,"material":`...), p.Material)
	var room [32]string // on the stack, for most parts enough
	names := room[:0]
	for name := range p.Is {
		names = append(names, name)
	}
	slices.Sort(names)
	for i, name := range names {
		if i == 0 {
			b = append(b, `,"is":{`...)
		} else {
			b = append(b, ',')
		}
		b = append(appendString(b, name), ':')
		b = appendString(b, p.Is[name])
	}
	if len(p.Is) > 0 {
		b = append(b, '}')
	}
	for i := range p.Printed {
		if i == 0 {
			b = append(b, `,"printed":[`...)
		} else {
			b = append(b, ',')
		}
		b = p.Printed[i].appendJSON(b)
	}
	if len(p.Printed) > 0 {
		b = append(b, ']')
	}
	return append(b, '}')
}

func (f *PrintedFigure) appendJSON(b []byte) []byte {
	b = appendString(append(b, `{"joint":`...), f.Joint)
	b = appendString(append(b, `,"marking":`...), f.Marking)
	b = appendString(append(b, `,"seen":`...), f.Seen.String())
	b = appendString(append(b, `,"where":`...), f.Where)
	if f.PasteLess != 0 {
		b = strconv.AppendInt(append(b, `,"paste_less":`...), int64(f.PasteLess), 10)
	}
	return append(b, '}')
}

// appendString writes a string. Whatever needs an escape is left to
// encoding/json.
func appendString(b []byte, text string) []byte {
	if !isPlain(text) {
		quoted, _ := json.Marshal(text) // no string fails
		return append(b, quoted...)
	}
	b = append(append(b, '"'), text...)
	return append(b, '"')
}

// isPlain reports whether encoding/json writes the text as it stands.
func isPlain(text string) bool {
	ascii := true
	for i := range len(text) {
		switch c := text[i]; {
		case c < ' ', c == 0x7f, c == '"', c == '\\', c == '<', c == '>', c == '&':
			return false
		case c > 0x7f:
			ascii = false
		}
	}
	return ascii || utf8.ValidString(text) && !strings.ContainsAny(text, "\u2028\u2029")
}
