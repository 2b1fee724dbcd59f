package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// Output rules. Answers go to standard output, what went wrong to standard
// error, one line for each mistake. With --json the answer is one JSON value,
// a list is an array, and what went wrong is the object
//
//	{"error": {"reason": "code", "message": "words"}}
//
// on standard output, with "fields" where a file has mistakes in several
// places. Reasons are stable, messages are for people and may change.

// Reasons of bad input beside those of package torque.
const (
	reasonWrongArguments = "wrong_arguments" // too few or too many
	reasonBadOption      = "bad_option"      // a flag's value cannot be used
	reasonBadFile        = "bad_file"        // a file cannot be read or has mistakes
	reasonNotFound       = "not_found"       // what was named is not there
	reasonFieldCount     = "wrong_field_count"
	reasonBrokenQuotes   = "broken_quotes"
	reasonTooLong        = "too_long"
	reasonOther          = "bad_input"
)

// An inputError says what is wrong with the input, with a code.
type inputError struct{ reason, message string }

func (e *inputError) Error() string { return e.message }

func wrong(reason, format string, args ...any) error {
	return &inputError{reason: reason, message: fmt.Sprintf(format, args...)}
}

type errorObject struct {
	Error errorBody `json:"error"`
}

type errorBody struct {
	Reason  string       `json:"reason"`
	Message string       `json:"message"`
	Fields  []errorField `json:"fields,omitempty"`
}

type errorField struct {
	File  string `json:"file,omitempty"`
	Line  int    `json:"line,omitempty"`
	Field string `json:"field,omitempty"`
	Rule  string `json:"rule"`
	Text  string `json:"text"`
}

// asErrorObject gives an error its code and its fields.
func asErrorObject(err error) errorObject {
	body := errorBody{Reason: reasonOther, Message: printable(err.Error())}
	if own, ok := errors.AsType[*inputError](err); ok {
		body.Reason = own.reason
	}
	if marking, ok := errors.AsType[*torque.MarkingError](err); ok {
		body.Reason = marking.Reason
	}
	body.Fields = errorFields(err)
	if len(body.Fields) > 0 && body.Reason == reasonOther {
		body.Reason = reasonBadFile
	}
	return errorObject{body}
}

func errorFields(err error) []errorField {
	var out []errorField
	for _, fe := range fieldErrors(err) {
		out = append(out, errorField{File: fe.File, Line: fe.Line, Field: fe.Path, Rule: fe.Rule, Text: fe.Text})
	}
	return out
}

// fieldErrors takes an error apart, in the order of files and lines.
func fieldErrors(err error) []*procedure.FieldError {
	fields := procedure.FieldErrors(err)
	slices.SortStableFunc(fields, func(a, b *procedure.FieldError) int {
		return cmp.Or(strings.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
	})
	return fields
}

// refused ends a command whose input cannot be used, with 2.
func refused(cmd *cobra.Command, err error) error {
	if wantsJSON(cmd) {
		if failed := writeJSON(cmd, asErrorObject(err)); failed != nil {
			return failed
		}
		return badInput("")
	}
	fields := fieldErrors(err)
	if len(fields) < 2 {
		return badInput("%s", printable(err.Error()))
	}
	for _, fe := range fields[:len(fields)-1] {
		cmd.PrintErrf("tightwright: %s\n", printable(fe.Error()))
	}
	return badInput("%s", printable(fields[len(fields)-1].Error()))
}

// printable writes a message on one line and lets nothing in it move the
// cursor or the reading direction.
func printable(text string) string {
	text = strings.ReplaceAll(strings.TrimSpace(text), "\n", "; ")
	var out strings.Builder
	for _, r := range text {
		if r != ' ' && !unicode.IsGraphic(r) || r == '\u2028' || r == '\u2029' {
			fmt.Fprintf(&out, `\u%04x`, r)
			continue
		}
		out.WriteRune(r)
	}
	return out.String()
}

// writeJSON writes one JSON value and a newline.
func writeJSON(cmd *cobra.Command, value any) error {
	if err := encodeJSON(cmd.OutOrStdout(), value); err != nil {
		return finding("write the answer: %s", err)
	}
	return nil
}

func encodeJSON(out io.Writer, value any) error {
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false) // <= is read by people too
	return enc.Encode(value)
}

func writeText(cmd *cobra.Command, text string) error {
	if _, err := io.WriteString(cmd.OutOrStdout(), text); err != nil {
		return finding("write the answer: %s", err)
	}
	return nil
}
