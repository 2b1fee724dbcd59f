package sqlite_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// Some tests need a process of their own: to be killed, or because looking into
// a file drops the locks that the looking process has on it. The test program
// starts itself again and tells the child by these variables what to do.
const (
	childTask = "TIGHTWRIGHT_TEST_CHILD"
	childPath = "TIGHTWRIGHT_TEST_PATH"
	childWord = "TIGHTWRIGHT_TEST_WORD"
)

func TestMain(m *testing.M) {
	var err error
	switch task := os.Getenv(childTask); task {
	case "":
		m.Run()
	case "write":
		err = writeForever(os.Getenv(childPath))
	case "search":
		err = searchFiles(os.Getenv(childPath), os.Getenv(childWord))
	default:
		err = fmt.Errorf("unknown task %q", task)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1) //nolint:forbidigo // TestMain is the main of this program
	}
}

func child(tb testing.TB, task, path, word string) *exec.Cmd {
	tb.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childTask+"="+task, childPath+"="+path, childWord+"="+word)
	cmd.Stderr = os.Stderr
	return cmd
}

const childWriters = 8

func childBuild(writer int) string { return fmt.Sprintf("build-%d", writer) }

// writeForever opens a store and writes to it until it is killed. After each
// Update that was acknowledged it prints the build and the number of the update.
func writeForever(path string) error {
	s, err := sqlite.Open(path, sqlite.Options{})
	if err != nil {
		return err
	}
	errs := make(chan error)
	var out sync.Mutex
	for w := range childWriters {
		go func() {
			build := childBuild(w)
			first, err := updatesSoFar(s, build)
			for n := first; err == nil; n++ {
				err = s.Update(context.Background(), "shop", func(tx store.Tx) error { return writeUpdate(tx, build, n) })
				if err == nil {
					out.Lock()
					_, err = fmt.Printf("%s %d\n", build, n)
					out.Unlock()
				}
			}
			errs <- err
		}()
	}
	return <-errs
}

// writeUpdate writes two entries, a version of a document and a request: all of
// them must be found, or none.
func writeUpdate(tx store.Tx, build string, n int64) error {
	entries := make([]store.Entry, 2)
	for i := range entries {
		entries[i] = store.Entry{
			Build: build, ID: fmt.Sprintf("%s/%d/%d", build, n, i), Schema: 1, Kind: "reading",
			TabletSeq: 2*n + int64(i), ServerUS: n + 1, Tools: []string{"tool"},
			Envelope: fmt.Appendf(nil, "envelope %s %d", build, n), Payload: bytes.Repeat([]byte{byte(n)}, int(n*37%900)),
		}
	}
	if err := tx.Append(entries); err != nil {
		return err
	}
	if _, err := tx.PutDocument(store.Document{Kind: "sheet", ID: build, ServerUS: n, Body: []byte(build)}, n); err != nil {
		return err
	}
	return tx.PutRequest(store.Request{ID: fmt.Sprintf("%s/%d", build, n), Digest: []byte(build)})
}

func updatesSoFar(s store.Store, build string) (n int64, err error) {
	err = s.View(context.Background(), "shop", func(r store.Reader) error {
		head, err := r.Head(build)
		n = head / 2
		return err
	})
	return n, err
}

// searchFiles prints the names of the store's files that contain a word.
func searchFiles(path, word string) error {
	names, err := filepath.Glob(path + "*")
	if err != nil {
		return err
	}
	for _, name := range names {
		content, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if bytes.Contains(content, []byte(word)) {
			fmt.Println(filepath.Base(name))
		}
	}
	return nil
}

// filesWith returns the names of the store's files that contain a word.
func filesWith(tb testing.TB, path, word string) []string {
	tb.Helper()
	out, err := child(tb, "search", path, word).Output()
	if err != nil {
		tb.Fatal(err)
	}
	return strings.Fields(string(out))
}

// lines sends each line of a child's output and closes the channel at its end.
func lines(out *bufio.Scanner) <-chan string {
	c := make(chan string)
	go func() {
		defer close(c)
		for out.Scan() {
			c <- out.Text()
		}
	}()
	return c
}
