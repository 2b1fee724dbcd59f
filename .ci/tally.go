// Tally reads what `go test -json` prints, from standard input, and says what a
// person needs of it: a line for each package, everything that a failed test
// printed, each skipped test with its reason, and last how many tests and subtests
// passed, failed and were skipped. It ends with 1 when a test failed, was skipped or
// did not end, when a package did not build, and when no test ran at all.
//
// Several runs may stand one after another: a test that ran twice counts once, with
// its worst result. With -q it only prints the names of what failed or was skipped and
// the plain line `N passed, M failed, K skipped`, and ends with 0.
package main

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// An event is one line of `go test -json`; see `go doc test2json`.
type event struct {
	Action     string
	Package    string
	ImportPath string // in place of Package, while building
	Test       string
	Output     string
}

// A result of a test, worst last.
type result int

const (
	passed result = iota + 1
	skipped
	failed
)

// A test is named by its package and, but for the package as a whole, its name.
type test struct{ pkg, name string }

func (t test) String() string { return strings.TrimSpace(t.pkg + " " + t.name) }

type tally struct {
	out     io.Writer         // the report; io.Discard with -q
	results map[test]result   // of all runs so far
	output  map[test][]string // of what has not ended yet
	running map[test]bool     // begun and not ended
	broken  map[string]bool   // packages with a failed test in this run
}

func main() {
	quiet := flag.Bool("q", false, "print only the result")
	flag.Parse()
	t := &tally{
		out: os.Stdout, results: map[test]result{}, output: map[test][]string{},
		running: map[test]bool{}, broken: map[string]bool{},
	}
	if *quiet {
		t.out = io.Discard
	}
	if err := t.read(os.Stdin); err != nil {
		fmt.Fprintln(os.Stderr, "tally:", err)
		os.Exit(1)
	}
	closing := "%d tests passed, %d failed, %d skipped.\n"
	if *quiet {
		closing = "%d passed, %d failed, %d skipped\n"
	}
	if ok := t.sum(os.Stdout, closing); !ok && !*quiet {
		os.Exit(1)
	}
}

// read takes every line; one that is not JSON (a compiler's word) is passed on.
func (t *tally) read(r io.Reader) error {
	lines := bufio.NewReader(r)
	for {
		line, err := lines.ReadBytes('\n')
		var e event
		switch {
		case len(line) == 0:
		case json.Unmarshal(line, &e) != nil:
			fmt.Fprintf(t.out, "%s", line)
		default:
			t.take(e)
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func (t *tally) take(e event) {
	this := test{e.Package, e.Test}
	switch e.Action {
	case "build-output":
		fmt.Fprint(t.out, e.Output)
	case "output":
		t.output[this] = append(t.output[this], e.Output)
	case "run":
		t.running[this] = true
	case "pass", "fail", "skip":
		delete(t.running, this)
		if e.Test == "" {
			t.endPackage(this, e)
		} else {
			t.endTest(this, e.Action)
		}
		delete(t.output, this)
	}
}

func (t *tally) endTest(this test, action string) {
	switch action {
	case "pass":
		t.set(this, passed)
	case "skip":
		t.set(this, skipped)
		fmt.Fprintf(t.out, "SKIP %s\n%s", this, strings.Join(t.output[this], ""))
	case "fail":
		t.set(this, failed)
		t.broken[this.pkg] = true
		fmt.Fprintf(t.out, "FAIL %s\n%s", this, strings.Join(t.output[this], ""))
	}
}

// endPackage also answers for tests that never ended (a panic, a deadline) and for a
// package that failed with no test to blame: it did not build, or TestMain failed.
func (t *tally) endPackage(this test, e event) {
	for open := range t.running {
		if open.pkg == this.pkg {
			delete(t.running, open)
			t.endTest(open, "fail")
		}
	}
	said := t.output[this]
	switch e.Action {
	case "fail":
		if !t.broken[this.pkg] {
			t.set(this, failed)
		}
		fmt.Fprint(t.out, strings.Join(said, ""))
	case "pass":
		fmt.Fprint(t.out, strings.Join(said[max(0, len(said)-1):], ""))
	}
	delete(t.broken, this.pkg)
}

func (t *tally) set(this test, r result) {
	t.results[this] = max(t.results[this], r)
}

// sum prints the names of what did not pass and the closing line. It is true only
// when tests ran and each of them passed.
func (t *tally) sum(out io.Writer, closing string) bool {
	for open := range t.running { // the input ended in mid-package
		t.set(open, failed)
	}
	count := map[result]int{}
	var names []string
	for this, r := range t.results {
		count[r]++
		switch r {
		case failed:
			names = append(names, "failed: "+this.String()+"\n")
		case skipped:
			names = append(names, "skipped: "+this.String()+"\n")
		}
	}
	slices.Sort(names)
	fmt.Fprint(out, strings.Join(names, ""))
	fmt.Fprintf(out, closing, count[passed], count[failed], count[skipped])
	return count[passed] > 0 && count[failed]+count[skipped] == 0
}
