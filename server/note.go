package server

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// Free text and pictures are kept beside the record, each with a key of its
// own. The entry holds "HMAC:attachment", the HMAC-SHA-256 of the body under
// that key in hexadecimal digits: it proves what the body was as long as body
// and key are kept, and nothing once they are erased.

const (
	mediaText    = "text/plain; charset=utf-8"
	mostTextSize = 2000
	notePrefix   = "note-"
	picPrefix    = "pic-"
)

// newNote makes the attachment for the text of an entry and what the entry
// holds in its place. An entry has at most one text, so the attachment is named
// after it.
func newNote(random io.Reader, entry, text string) (*store.Attachment, procedure.NoteRef, error) {
	key := make([]byte, sha256.Size)
	if _, err := io.ReadFull(random, key); err != nil {
		return nil, "", fmt.Errorf("make a key: %w", err)
	}
	a := &store.Attachment{ID: notePrefix + entry, MediaType: mediaText, Body: []byte(text), Key: key}
	return a, refOf(a), nil
}

// refOf is what an entry holds in the place of an attachment.
func refOf(a *store.Attachment) procedure.NoteRef {
	return procedure.NoteRef(hmacOf(a.Key, a.Body) + ":" + a.ID)
}

func hmacOf(key, body []byte) string {
	h := hmac.New(sha256.New, key)
	h.Write(body)
	return hex.EncodeToString(h.Sum(nil))
}

func noteToProto(build string, ref procedure.NoteRef) *pb.Note {
	sum, id, ok := strings.Cut(string(ref), ":")
	if !ok {
		return nil
	}
	return &pb.Note{Attachment: attachmentName(build, id), HmacSha256: sum}
}

// sameText reports whether a text is the one that an entry stands for. Of one
// that was erased nothing is left to compare.
func sameText(r store.Reader, ref procedure.NoteRef, text string) (bool, error) {
	sum, id, ok := strings.Cut(string(ref), ":")
	if !ok {
		return text == "", nil
	}
	a, err := r.Attachment(id)
	if err != nil {
		return false, fmt.Errorf("read attachment %s: %w", id, err)
	}
	return a.ErasedUS != 0 || hmac.Equal([]byte(hmacOf(a.Key, []byte(text))), []byte(sum)), nil
}

// noteOf returns what a payload holds in the place of text.
func noteOf(p procedure.Payload) procedure.NoteRef {
	switch p := p.(type) {
	case procedure.LookTaken:
		return p.Note
	case procedure.ReworkBegun:
		return p.Reason
	case procedure.HoldSigned:
		return p.Saw
	case procedure.ResultAccepted:
		return p.Reason
	case procedure.FigureAccepted:
		return p.Reason
	case procedure.EntryWithdrawn:
		return p.Reason
	case procedure.ToolCorrected:
		return p.Reason
	case procedure.PartSwapped:
		return p.Reason
	case procedure.JobAbandoned:
		return p.Reason
	case procedure.JobOpened, procedure.ReadingTaken, procedure.MeasureTaken, procedure.PhotoTaken,
		procedure.PrepDone, procedure.JobFinished, procedure.BuildReleased, procedure.Unknown:
	}
	return ""
}

// free wants free text of a person.
func (f *fields) free(path, text string, required bool) {
	f.text(path, text, required, mostTextSize)
	if !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
		f.add(path, "unprintable", "the text has signs that cannot be shown")
	}
}
