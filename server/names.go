package server

import (
	"encoding/base32"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// The collections of resource names.
const (
	people      = "people"
	procedures  = "procedures"
	builds      = "builds"
	jobs        = "jobs"
	entries     = "entries"
	attachments = "attachments"
	tools       = "tools"
)

var (
	idForm   = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$`)
	uuidForm = regexp.MustCompile(`^[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}$`)
	// attachmentForm also fits the ids that this server makes for texts.
	attachmentForm = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,99}$`)
)

func personName(id string) string            { return nameIf(people, id) }
func procedureName(id string) string         { return nameIf(procedures, id) }
func buildName(id string) string             { return nameIf(builds, id) }
func toolName(id string) string              { return nameIf(tools, id) }
func jobName(build, id string) string        { return under(build, jobs, id) }
func entryName(build, id string) string      { return under(build, entries, id) }
func attachmentName(build, id string) string { return under(build, attachments, id) }

func nameIf(collection, id string) string {
	if id == "" {
		return ""
	}
	return collection + "/" + id
}

func under(build, collection, id string) string {
	if id == "" {
		return ""
	}
	return builds + "/" + build + "/" + collection + "/" + id
}

// parseID reads a name of a top collection, such as tools/tw-03.
func parseID(collection, name string) (string, error) {
	id, ok := strings.CutPrefix(name, collection+"/")
	if !ok || !idForm.MatchString(id) {
		return "", malformedName(collection+"/{"+singular(collection)+"}", name)
	}
	return id, nil
}

// parseUnder reads a name below a build, such as builds/b-17/jobs/crank.
func parseUnder(collection, name string) (build, id string, err error) {
	parts := strings.Split(name, "/")
	form := idForm
	if collection == attachments {
		form = attachmentForm
	}
	if len(parts) != 4 || parts[0] != builds || parts[2] != collection ||
		!idForm.MatchString(parts[1]) || !form.MatchString(parts[3]) {
		return "", "", malformedName(builds+"/{build}/"+collection+"/{"+singular(collection)+"}", name)
	}
	return parts[1], parts[3], nil
}

func malformedName(form, name string) error {
	text := fmt.Sprintf("write a name of the form %s, not %q", form, clip(name))
	if name == "" {
		text = "name it in the form " + form
	}
	return &procedure.FieldError{Rule: "malformed-name", Text: text}
}

func singular(collection string) string {
	switch collection {
	case people:
		return "person"
	case entries:
		return "entry"
	}
	return strings.TrimSuffix(collection, "s")
}

// clip keeps what is quoted in a message short.
func clip(text string) string {
	const most = 80
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return string(runes[:most]) + "…"
}

// idBytes is how many random bytes an id has that the server makes: with 100
// bits the chance of a collision is nil in any workshop.
const idBytes = 15

var idAlphabet = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// randomID makes an id that says nothing.
func randomID(random io.Reader, prefix string) (string, error) {
	b := make([]byte, idBytes)
	if _, err := io.ReadFull(random, b); err != nil {
		return "", fmt.Errorf("make an id: %w", err)
	}
	return prefix + idAlphabet.EncodeToString(b), nil
}
