// Package script plays short scripts of a bench: who did what to which bike,
// and what the record said. One script serves several benches: the pure
// domain, a server over gRPC, and the demonstration a newcomer watches. What
// all of them answer must be the same, line for line.
//
// A script is text, one command a line; words may be quoted. A line that
// begins with # is a remark. A line that begins with > is what the bench is
// expected to answer to the command above it.
//
//	enrol NAME RANK                    a person of the workshop
//	skill NAME SKILL PROVEN [LAPSES]   a line in the person's register, by dates
//	tool FILE                          the tools of a YAML list
//	calibrate TOOL found FACTOR left FACTOR due DATE [hands HAND,HAND]
//	                                   a calibration of that time; factors are
//	                                   delivered torque divided by set torque
//	quarantine TOOL REASON | dropped TOOL
//	                                   set aside, for a reason or since it fell
//	return TOOL                        put back
//	catalogue FOLDER | catalogue built-in
//	                                   plan from now on by the built-in procedures
//	                                   with that folder laid over them, or alone
//	at DATE TIME | wait DURATION       the clock of the bench, UTC, to the minute
//	                                   or the second; it does not go back
//	pace DURATION                      how long an entry takes from now on
//	as NAME                            whose hands the next commands are
//	tablet NAME                        on which tablet
//	clock MINUTES [unmeasured]         how far its clock is ahead from now on
//	offline | online                   whether it has a network: what it is told
//	                                   without one it keeps, and delivers in order
//	build ID FILE                      a bike with its build sheet
//	on ID                              go on with a bike from before
//	sheet FILE                         another sheet for the bike
//	plan PROCEDURE                     what the plan says for the bike
//	answer JOINT REASON                the foreman answers for a figure
//	open JOB PROCEDURE [with SUPERVISOR]
//	                                   begin a job
//	work JOB [until STEP] [with TOOL] [second NAME]
//	                                   do what the guide asks, well
//	read JOB STEP BOLT FIGURE UNIT TOOL [turned]
//	measure JOB STEP CHECK VALUE UNIT
//	look JOB STEP CHECK yes|no
//	photo JOB STEP CHECK
//	prep JOB STEP [thread=PREP] [face=PREP] [batch=TEXT] [metal=METAL] [celsius=N]
//	rework JOB STEP FROM REASON
//	sign JOB STEP SAW
//	accept JOB ENTRY REASON            ENTRY is a name given before, or last
//	name NAME                          names the last entry
//	withdraw ENTRY CAUSE REASON
//	correct ENTRY TOOL REASON
//	swap JOB ROLE FILE REASON
//	status JOB | audit | finish JOB | abandon JOB REASON | release
//
// Every command of a hand takes a minute, unless the script sets another pace. A tablet without a network can tell
// what happened and no more: it cannot plan, open or swap, nor work by the guide.
package script

import (
	"fmt"
	"strings"
)

// A Line is one line of a script.
type Line struct {
	// Number counts from 1.
	Number int
	// Text is the line as written, Words its words when it is a command.
	Text  string
	Words []string
	// Want is what the bench is expected to answer.
	Want []string
}

// IsRemark reports whether the line only speaks to the reader.
func (l Line) IsRemark() bool { return len(l.Words) == 0 }

// Parse reads a script. An error names the line and the mend.
func Parse(text string) ([]Line, error) {
	var lines []Line
	for i, raw := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		trimmed := strings.TrimSpace(raw)
		if want, ok := strings.CutPrefix(trimmed, ">"); ok {
			if len(lines) == 0 || lines[len(lines)-1].IsRemark() {
				return nil, fmt.Errorf("line %d: an answer needs a command above it", i+1)
			}
			last := &lines[len(lines)-1]
			last.Want = append(last.Want, strings.TrimSpace(want))
			continue
		}
		l := Line{Number: i + 1, Text: trimmed}
		if trimmed != "" && !strings.HasPrefix(trimmed, "#") {
			words, err := split(trimmed)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", i+1, err)
			}
			l.Words = words
		}
		lines = append(lines, l)
	}
	return lines, nil
}

// split cuts a line into words; double quotes hold words together.
func split(line string) ([]string, error) {
	var words []string
	var word strings.Builder
	quoted, open := false, false
	for _, r := range line {
		switch {
		case r == '"':
			quoted, open = !quoted, true
		case r == ' ' && !quoted:
			if open {
				words = append(words, word.String())
			}
			word.Reset()
			open = false
		default:
			word.WriteRune(r)
			open = true
		}
	}
	if quoted {
		return nil, fmt.Errorf("a quote is opened and not closed")
	}
	if open {
		words = append(words, word.String())
	}
	return words, nil
}

// Format writes a line with what the bench answered, as it stands in a script.
func Format(l Line, answer []string) string {
	var b strings.Builder
	b.WriteString(l.Text + "\n")
	for _, a := range answer {
		b.WriteString("> " + a + "\n")
	}
	return b.String()
}
