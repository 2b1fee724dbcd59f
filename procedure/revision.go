package procedure

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// A Revision names the exact content of a resolved procedure: the SHA-256 of
// its canonical JSON, joint rows and void map included. Two procedures with
// the same Revision say the same thing at the bench; a changed figure, word or
// void edge gives another. The zero value names nothing.
type Revision [sha256.Size]byte

// String returns all 64 hexadecimal digits.
func (r Revision) String() string { return hex.EncodeToString(r[:]) }

// Short returns the first 12 digits, which is what a screen shows. It is for
// reading only: compare whole revisions.
func (r Revision) Short() string { return r.String()[:12] }

// IsZero reports whether r names nothing.
func (r Revision) IsZero() bool { return r == Revision{} }

// MarshalText writes the 64 digits.
func (r Revision) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (r *Revision) UnmarshalText(b []byte) error {
	v, err := ParseRevision(string(b))
	if err != nil {
		return err
	}
	*r = v
	return nil
}

// ParseRevision reads 64 lower-case hexadecimal digits.
func ParseRevision(text string) (Revision, error) {
	var r Revision
	b, err := hex.DecodeString(text)
	if err != nil || len(b) != len(r) || text != strings.ToLower(text) {
		return Revision{}, &FieldError{Rule: "malformed-revision",
			Text: fmt.Sprintf("write all 64 lower-case hexadecimal digits of the revision, not %q", text)}
	}
	copy(r[:], b)
	return r, nil
}

// Resolved is a definition together with the joint rows it uses, which is all
// that a plan needs beside the bike. It shares the definition's memory and is
// not to be changed: its Revision would no longer be its own.
type Resolved struct {
	Definition
	// Joints are the rows that the steps name, each once, by id.
	Joints []JointRow `json:"joints"`
	// Origin names the layer of the catalogue that the definition is from; it
	// is not part of the content.
	Origin string `json:"origin,omitempty"`
	// Revision names the content of both.
	Revision Revision `json:"revision"`

	read readTexts
}

// Resolve joins a definition with the rows of the joint table that it uses and
// computes the revision. A step that names a row which is not there, or a
// table with one id twice, is reported by field; the definition is otherwise
// taken as it is (see CheckDefinition).
func Resolve(def *Definition, table []JointRow) (*Resolved, error) {
	var p problems
	rows := make(map[string]JointRow, len(table))
	for i, row := range table {
		if _, twice := rows[row.ID]; twice {
			p.add(fmt.Sprintf("joints[%d].id", i), "duplicate-id", "the joint table has %q twice: keep one", row.ID)
		}
		rows[row.ID] = row
	}
	used := map[string]JointRow{}
	for i, step := range def.Steps {
		if step.Torque == nil {
			continue
		}
		for j, choice := range step.Torque.Joints {
			row, ok := rows[choice.Joint]
			if !ok {
				p.add(fmt.Sprintf("steps[%d].torque.joints[%d].joint", i, j), "unknown-joint",
					"the joint table has no row %q%s", choice.Joint, meant(choice.Joint, keysOf(rows)))
				continue
			}
			used[row.ID] = row
		}
	}
	if err := p.err(); err != nil {
		return nil, err
	}
	r := &Resolved{Definition: *def, Joints: make([]JointRow, 0, len(used))}
	for _, id := range keysOf(used) {
		r.Joints = append(r.Joints, used[id])
	}
	canonical, err := r.Canonical()
	if err != nil {
		return nil, err
	}
	r.Revision = sha256.Sum256(canonical)
	r.readAll()
	return r, nil
}

// Joint returns the row with this id, or false.
func (r *Resolved) Joint(id string) (*JointRow, bool) {
	i, ok := slices.BinarySearchFunc(r.Joints, id, func(row JointRow, id string) int {
		return strings.Compare(row.ID, id)
	})
	if !ok {
		return nil, false
	}
	return &r.Joints[i], true
}

// Step returns the step with this id and its place, or false.
func (r *Resolved) Step(id string) (step *Step, index int, ok bool) {
	for i := range r.Steps {
		if r.Steps[i].ID == id {
			return &r.Steps[i], i, true
		}
	}
	return nil, 0, false
}

// Canonical returns the bytes that the Revision is the SHA-256 of: one JSON
// object with the members "joints" and "procedure", every object's members
// sorted by name, no white space, and no member whose value is null, "", [] or
// {}. So neither the order of keys nor comments nor layout of a file count,
// and a field added later leaves old revisions as they are.
func (r *Resolved) Canonical() ([]byte, error) {
	whole := struct {
		Procedure *Definition `json:"procedure"`
		Joints    []JointRow  `json:"joints"`
	}{&r.Definition, r.Joints}
	plain, err := json.Marshal(whole)
	if err != nil {
		return nil, fmt.Errorf("write procedure %s as JSON: %w", r.ID, err)
	}
	dec := json.NewDecoder(bytes.NewReader(plain))
	dec.UseNumber() // numbers keep their digits
	var tree any
	if err := dec.Decode(&tree); err != nil {
		return nil, fmt.Errorf("read back procedure %s: %w", r.ID, err)
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out) // sorts the keys of a map
	enc.SetEscapeHTML(false)
	if err := enc.Encode(withoutEmpty(tree)); err != nil {
		return nil, fmt.Errorf("write procedure %s canonically: %w", r.ID, err)
	}
	return bytes.TrimSuffix(out.Bytes(), []byte("\n")), nil
}

// withoutEmpty drops members that say nothing. List items stay: their place
// is part of their meaning.
func withoutEmpty(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, member := range v {
			if member = withoutEmpty(member); isEmpty(member) {
				delete(v, k)
			} else {
				v[k] = member
			}
		}
	case []any:
		for i := range v {
			v[i] = withoutEmpty(v[i])
		}
	}
	return v
}

func isEmpty(v any) bool {
	switch v := v.(type) {
	case nil:
		return true
	case string:
		return v == ""
	case []any:
		return len(v) == 0
	case map[string]any:
		return len(v) == 0
	}
	return false
}
