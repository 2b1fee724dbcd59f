package main

import (
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure/fit"
)

// fitAnswer is the answer to a question about parts.
type fitAnswer struct {
	results []fit.Result
	notes   []string
}

func (a fitAnswer) verdict() fit.Verdict { return fit.Worst(a.results...) }

// isFinding reports whether the parts do not simply go together: the command ends
// with 1.
func (a fitAnswer) isFinding() bool { return a.verdict() >= fit.TryAndMeasure }

// add takes results in; a point that two rules answer alike is said once.
func (a *fitAnswer) add(results []fit.Result) {
	for _, r := range results {
		isSaid := slices.ContainsFunc(a.results, func(o fit.Result) bool {
			return o.Rule == r.Rule && o.Check == r.Check && o.Measured == r.Measured
		})
		if !isSaid {
			a.results = append(a.results, r)
		}
	}
}

type fitObject struct {
	Verdict fit.Verdict       `json:"verdict"`
	Results []fitResultObject `json:"results"`
	Notes   []string          `json:"notes,omitempty"`
}

type fitResultObject struct {
	Rule            string            `json:"rule"`
	Check           string            `json:"check,omitempty"`
	Verdict         fit.Verdict       `json:"verdict"`
	Measured        string            `json:"measured"`
	Instrument      string            `json:"instrument"`
	InstrumentError string            `json:"instrument_error"`
	Limit           string            `json:"limit"`
	Margin          *fitMarginObject  `json:"margin,omitempty"`
	Uncertainty     string            `json:"uncertainty,omitempty"`
	Needs           []string          `json:"needs,omitempty"`
	Numbers         map[string]string `json:"numbers,omitempty"`
	Why             string            `json:"why"`
	Source          string            `json:"source"`
	Confidence      fit.Confidence    `json:"confidence"`
}

type fitMarginObject struct {
	Length string `json:"length,omitempty"`
	Count  *int   `json:"count,omitempty"`
	Of     string `json:"of,omitempty"`
}

func (a fitAnswer) object() any {
	return fitObject{Verdict: a.verdict(), Results: fitObjects(a.results), Notes: a.notes}
}

func fitObjects(results []fit.Result) []fitResultObject {
	out := make([]fitResultObject, 0, len(results))
	for _, r := range results {
		o := fitResultObject{Rule: r.Rule, Check: r.Check, Verdict: r.Verdict, Measured: r.Measured,
			Instrument: r.Instrument.Name, InstrumentError: r.Instrument.Error.String(), Limit: r.Limit,
			Margin: fitMargin(r.Margin), Needs: r.Needs, Numbers: r.Numbers, Why: r.Why, Source: r.Source, Confidence: r.Confidence}
		if r.Uncertainty > 0 {
			o.Uncertainty = r.Uncertainty.String()
		}
		out = append(out, o)
	}
	return out
}

func fitMargin(m fit.Margin) *fitMarginObject {
	switch m.Kind {
	case fit.LengthMargin:
		return &fitMarginObject{Length: m.Length.String()}
	case fit.CountMargin:
		return &fitMarginObject{Count: &m.Count, Of: m.Of}
	case fit.NoMargin:
	}
	return nil
}

func (a fitAnswer) words() string {
	var p page
	if len(a.results) == 0 {
		p.row("answer", "there is nothing to ask of these parts")
	}
	p.results(a.results)
	for _, note := range a.notes {
		p.row("note", note)
	}
	return p.String()
}

// results writes what each point of the rules found.
func (p *page) results(results []fit.Result) {
	for i, r := range results {
		if i > 0 {
			p.line("")
		}
		p.row(fitName(r), verdictWords(r))
		p.row("  measured", r.Measured+", "+fitInstrument(r.Instrument))
		p.row("  limit", r.Limit)
		p.row("  left", fitLeft(r))
		p.row("  why", r.Why)
		p.row("  source", fitSource(r))
	}
}

// fitName is the point of the rule, or the rule.
func fitName(r fit.Result) string {
	if r.Check != "" {
		return r.Check
	}
	return strings.ReplaceAll(r.Rule, "-", " ")
}

// verdictWords says the verdict with what it fits with, or what else is needed.
func verdictWords(r fit.Result) string {
	needs := strings.Join(r.Needs, " and ")
	switch {
	case needs == "":
		return strings.ToUpper(r.Verdict.String())
	case r.Verdict == fit.FitsWith:
		return "FITS WITH " + needs
	}
	return strings.ToUpper(r.Verdict.String()) + "; it needs " + needs
}

func fitInstrument(i fit.Instrument) string {
	if i.Error == 0 {
		return i.Name
	}
	return i.Name + " ± " + i.Error.String()
}

// fitLeft is what is left to the limit, and how well that is known.
func fitLeft(r fit.Result) string {
	text := r.Margin.String()
	if text != "" && r.Margin.Kind == fit.LengthMargin && r.Uncertainty > 0 {
		text += " ± " + r.Uncertainty.String()
	}
	return text
}

func fitSource(r fit.Result) string {
	if r.Source == string(r.Confidence) {
		return r.Source
	}
	return r.Source + " (" + string(r.Confidence) + ")"
}
