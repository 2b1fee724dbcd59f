package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// boltsText says in which order and how often bolts are pulled; nothing for one
// bolt that is pulled once.
func boltsText(p *procedure.PlannedTorque) string {
	if len(p.Bolts) < 2 && len(p.Passes) < 2 && !p.Closing {
		return ""
	}
	text := "in the order " + strings.Join(p.Order, ", ")
	if len(p.Bolts) < 2 {
		text = strings.Join(p.Bolts, ", ")
	}
	if len(p.Passes) > 1 {
		var passes []string
		for _, percent := range p.Passes {
			passes = append(passes, fmt.Sprintf("%d %%", percent))
		}
		text += "; passes at " + strings.Join(passes, ", ")
	}
	if p.Closing {
		text += fmt.Sprintf("; then round after round at full value until no bolt turns, at most %d rounds", p.ClosingLimit)
	}
	return text
}

// checkText says what a check asks, with its limits and instrument.
func checkText(c procedure.PlannedCheck) string {
	text := c.Ask
	switch c.Kind {
	case procedure.Measure:
		text += " " + procedure.LimitWords(c.Min, c.Max, c.Unit)
		if c.Instrument != "" {
			text += " With: " + c.Instrument
			if strings.Trim(c.Error, "0.") != "" {
				text += fmt.Sprintf(" (may be %s off)", procedure.MeasureWords(c.Error, c.Unit))
			}
			text += "."
		}
	case procedure.Photo:
		text += " Take a picture."
	case procedure.Look:
	}
	return text
}

func holdText(h *procedure.Hold) string {
	if h.By == procedure.ForemanSigns {
		return "work stops until the foreman has looked: " + h.LooksAt
	}
	return "another able person looks before the next step: " + h.LooksAt
}

// waitText says a wait; title names a step.
func waitText(w procedure.Wait, title func(string) string) string {
	before := title(w.Before)
	switch w.Before {
	case procedure.BeforeFinishing:
		before = "the job is finished"
	case procedure.BeforeReleasing:
		before = "the bike leaves"
	}
	text := fmt.Sprintf("%s before %s", durationText(time.Duration(w.For)), before)
	if len(w.With) > 0 {
		var with []string
		for _, p := range w.With {
			with = append(with, p.Words())
		}
		text += ", with " + strings.Join(with, " or ")
	}
	for _, l := range w.Longer {
		text += "; " + longerText(l)
	}
	return text + ". " + w.Why
}

func longerText(l procedure.Longer) string {
	var when []string
	if len(l.Metals) > 0 {
		when = append(when, "on "+strings.Join(l.Metals, " or "))
	}
	if l.BelowCelsius != nil {
		when = append(when, fmt.Sprintf("below %d °C", *l.BelowCelsius))
	}
	return fmt.Sprintf("%d times as long %s", l.Times, strings.Join(when, " and "))
}

func durationText(d time.Duration) string {
	hours, minutes := int(d/time.Hour), int(d%time.Hour/time.Minute)
	switch {
	case hours == 0:
		return counted(minutes, "minute")
	case minutes == 0:
		return counted(hours, "hour")
	}
	return counted(hours, "hour") + " " + counted(minutes, "minute")
}

// reworkText says what to do when a step does not come out; title names a step.
func reworkText(r procedure.Rework, title func(string) string) string {
	text := r.If + ": " + r.Do
	switch r.From {
	case "":
	case "stop":
		text += " The job stops with this part."
	default:
		text += " Go back to " + title(r.From) + "."
	}
	return text
}
