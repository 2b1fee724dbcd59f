package main

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// An exported record holds the whole record of one or more builds, to be
// audited or kept elsewhere. It is UTF-8 text, one JSON object a line:
//
//	{"type":"record","version":1}
//	{"type":"tool","tool":{...}}
//	{"type":"rank","rank":{"person":"...","rank":"...","since":"..."}}
//	{"type":"skills","skills":{"person":"...","skills":{"held":[...]},"since":"..."}}
//	{"type":"plan","digest":"64 hexadecimal digits","plan":{...}}
//	{"type":"entry","envelope":{...},"payload":{...}}
//
// The first line says what the file is. A plan stands anywhere, once for each
// digest that an entry names. The entries of one build stand in their order,
// from sequence 1 without a gap; builds may be mixed. Tools, in the form of a
// rack file, ranks and skills are what was known when the record was exported;
// there may be none.
//
// plan, envelope and payload are the bytes as they are stored, on one line:
// digest is the SHA-256 of the plan's, and envelope and payload together are
// what the ledger holds. Whoever formats the file anew breaks the digests, and
// reading says so. Keys that are not named here are left for later versions;
// readers pass over them.
const (
	recordVersion = 1
	maxRecordLine = 4 << 20
)

const (
	lineRecord = "record"
	lineTool   = "tool"
	lineRank   = "rank"
	lineSkills = "skills"
	linePlan   = "plan"
	lineEntry  = "entry"
)

type recordLine struct {
	Type     string             `json:"type"`
	Version  int                `json:"version,omitempty"`
	Tool     *procedure.Tool    `json:"tool,omitempty"`
	Rank     *audit.RankSince   `json:"rank,omitempty"`
	Skills   *audit.SkillsSince `json:"skills,omitempty"`
	Digest   string             `json:"digest,omitempty"`
	Plan     json.RawMessage    `json:"plan,omitempty"`
	Envelope json.RawMessage    `json:"envelope,omitempty"`
	Payload  json.RawMessage    `json:"payload,omitempty"`
}

// A recordFile is an exported record as it was read.
type recordFile struct {
	plans  map[string]*procedure.Plan
	tools  []procedure.Tool
	ranks  []audit.RankSince
	skills []audit.SkillsSince
	// builds in the order in which the file names them first.
	builds  []string
	entries map[string][]procedure.Entry
}

// readRecord reads an exported record. name is for messages, which give the
// line.
func readRecord(name string, in io.Reader) (*recordFile, error) {
	r := &recordFile{plans: map[string]*procedure.Plan{}, entries: map[string][]procedure.Entry{}}
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, maxRecordLine)
	number := 0
	for lines.Scan() {
		number++
		if err := r.line(number, lines.Bytes()); err != nil {
			return nil, wrong(reasonBadFile, "%s:%d: %s", name, number, err)
		}
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return nil, wrong(reasonBadFile, "%s:%d: the line is longer than the %d bytes that are read", name, number+1, maxRecordLine)
	case err != nil:
		return nil, wrong(reasonBadFile, "read %s: %s", name, err)
	case number == 0:
		return nil, wrong(reasonBadFile, "%s: the file is empty", name)
	}
	return r, nil
}

func (r *recordFile) line(number int, text []byte) error {
	if number == 1 {
		text = bytes.TrimPrefix(text, []byte("\ufeff"))
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return nil
	}
	var line recordLine
	if err := json.Unmarshal(text, &line); err != nil {
		if bad, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
			return fmt.Errorf("this is no line of an exported record: %s has another kind of value than %s", cmp.Or(bad.Field, "a line"), bad.Value)
		}
		return fmt.Errorf("this is no line of an exported record: %w", err)
	}
	switch {
	case number == 1 && line.Type != lineRecord:
		return fmt.Errorf("the first line of an exported record is {\"type\":\"record\",\"version\":%d}", recordVersion)
	case line.Type == lineRecord && line.Version != recordVersion:
		return fmt.Errorf("the record has version %d, this program reads version %d", line.Version, recordVersion)
	case line.Type == lineRecord:
		return nil
	case line.Type == lineTool && line.Tool != nil:
		r.tools = append(r.tools, *line.Tool)
		return line.Tool.Check()
	case line.Type == lineRank && line.Rank != nil:
		r.ranks = append(r.ranks, *line.Rank)
		return nil
	case line.Type == lineSkills && line.Skills != nil:
		r.skills = append(r.skills, *line.Skills)
		return nil
	case line.Type == linePlan:
		return r.plan(line)
	case line.Type == lineEntry:
		return r.entry(line)
	}
	return fmt.Errorf("a line has the type record, tool, rank, skills, plan or entry and what belongs to it, not %q", line.Type)
}

func (r *recordFile) plan(line recordLine) error {
	sum := sha256.Sum256(line.Plan)
	if got := hex.EncodeToString(sum[:]); got != line.Digest {
		return fmt.Errorf("the plan is not the one that its digest names: it was changed, or formatted anew")
	}
	plan, err := procedure.DecodePlan(line.Plan)
	if err != nil {
		return err
	}
	r.plans[line.Digest] = plan
	return nil
}

func (r *recordFile) entry(line recordLine) error {
	if len(line.Envelope) == 0 || len(line.Payload) == 0 {
		return fmt.Errorf("an entry has an envelope and a payload")
	}
	e, err := procedure.DecodeEntry(line.Envelope, line.Payload)
	if err != nil {
		return err
	}
	if want := int64(len(r.entries[e.Build])) + 1; e.Seq != want {
		return fmt.Errorf("build %q: entry %s has sequence %d where %d comes next", e.Build, e.ID, e.Seq, want)
	}
	if _, known := r.entries[e.Build]; !known {
		r.builds = append(r.builds, e.Build)
	}
	r.entries[e.Build] = append(r.entries[e.Build], e)
	return nil
}

// fold returns the state of a build.
func (r *recordFile) fold(build string) (*procedure.Build, error) {
	return procedure.Fold(build, r.entries[build], func(digest string) (*procedure.Plan, error) {
		if plan, ok := r.plans[digest]; ok {
			return plan, nil
		}
		return nil, fmt.Errorf("no line of the record gives it: %w", procedure.ErrNotFound)
	})
}

// A recordWriter writes an exported record.
type recordWriter struct {
	enc   *json.Encoder
	done  map[string]bool
	lines int
}

// newRecordWriter writes the first line.
func newRecordWriter(out io.Writer) (*recordWriter, error) {
	w := &recordWriter{enc: json.NewEncoder(out), done: map[string]bool{}}
	w.enc.SetEscapeHTML(false) // stored bytes stay as they are
	return w, w.write(recordLine{Type: lineRecord, Version: recordVersion})
}

// tool writes what is known of a tool.
func (w *recordWriter) tool(t procedure.Tool) error {
	return w.write(recordLine{Type: lineTool, Tool: &t})
}

// rank writes who was what from a time on.
func (w *recordWriter) rank(r audit.RankSince) error {
	return w.write(recordLine{Type: lineRank, Rank: &r})
}

// skills writes what was in whose register from a time on.
func (w *recordWriter) skills(s audit.SkillsSince) error {
	return w.write(recordLine{Type: lineSkills, Skills: &s})
}

// plan writes a plan once.
func (w *recordWriter) plan(plan *procedure.Plan) error {
	data, digest, err := plan.Encode()
	if err != nil || w.done[digest] {
		return err
	}
	w.done[digest] = true
	return w.write(recordLine{Type: linePlan, Digest: digest, Plan: data})
}

// entry writes the next entry of a build.
func (w *recordWriter) entry(e procedure.Entry) error {
	envelope, payload, err := e.Encode()
	if err != nil {
		return err
	}
	return w.write(recordLine{Type: lineEntry, Envelope: envelope, Payload: payload})
}

func (w *recordWriter) write(line recordLine) error {
	if err := w.enc.Encode(line); err != nil {
		return fmt.Errorf("write record: %w", err)
	}
	w.lines++
	return nil
}
