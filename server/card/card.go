package card

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"html/template"
	"io"
	"slices"

	"github.com/tightwright/tightwright/procedure"
)

// MediaType is that of what Write writes.
const MediaType = "text/html; charset=utf-8"

//go:embed card.html.tmpl card.css
var files embed.FS

// sheets is the parsed template; it is only read.
var sheets = template.Must(template.New("card.html.tmpl").ParseFS(files, "card.html.tmpl", "card.css"))

// A Card is what the sheets are made from. Whole is required.
type Card struct {
	Whole *procedure.Whole
	// Tools are the torque tools that were planned with; their labels and the
	// days on which their calibrations end are printed.
	Tools []procedure.Tool
	// Catalogue is the revision of the procedures, as Revision gives it; empty
	// leaves it out.
	Catalogue string
	// Invented marks every page: the bike does not exist.
	Invented bool
}

// Write writes the card. It fails when the build's id does not go into a QR
// code or when w fails; then a part may have been written.
func Write(w io.Writer, c Card) error {
	v, err := newView(c)
	if err != nil {
		return fmt.Errorf("write card of %s: %w", c.Whole.Build, err)
	}
	var out bytes.Buffer
	if err := sheets.Execute(&out, v); err != nil {
		return fmt.Errorf("write card of %s: %w", c.Whole.Build, err)
	}
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("write card of %s: %w", c.Whole.Build, err)
	}
	return nil
}

// Revision names a set of procedures, whatever their order: the SHA-256 over a
// line "id revision" for each, sorted, as 64 hexadecimal digits.
func Revision(all []*procedure.Resolved) string {
	var lines []string
	for _, r := range all {
		lines = append(lines, fmt.Sprintf("%s %s\n", r.ID, r.Revision))
	}
	slices.Sort(lines)
	sum := sha256.New()
	for _, line := range lines {
		sum.Write([]byte(line)) // a hash never fails
	}
	return hex.EncodeToString(sum.Sum(nil))
}
