package sqlite_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// A mutation looks its request up, writes, and keeps the answer, all in one
// Update. Sent again, it changes nothing and gets the same answer.
func Example() {
	dir, err := os.MkdirTemp("", "tightwright")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir) //nolint:errcheck // a temporary directory
	s, err := sqlite.Open(filepath.Join(dir, "workshop.db"), sqlite.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer s.Close() // what was answered is durable already

	record := func(requestID, digest string) (answer []byte, err error) {
		err = s.Update(context.Background(), "workshop-1", func(tx store.Tx) error {
			known, found, err := store.Answered(tx, requestID, []byte(digest))
			if err != nil || found {
				answer = known
				return err
			}
			reading := []store.Entry{{
				Build: "build-7", ID: "entry-" + requestID, Job: "job-1", Schema: 1, Kind: "reading",
				Tools: []string{"wrench-2"}, Envelope: []byte(`{"v":1}`), Payload: []byte(`{"as_written":"12 N·m"}`),
			}}
			if err := tx.Append(reading); err != nil {
				return err
			}
			answer = fmt.Appendf(nil, "number %d of the build, leaf %d", reading[0].Seq, reading[0].LedgerIndex)
			return tx.PutRequest(store.Request{ID: requestID, Digest: []byte(digest), Answer: answer})
		})
		return answer, err
	}
	for _, call := range [][2]string{{"r-1", "12 N·m"}, {"r-2", "13 N·m"}, {"r-1", "12 N·m"}, {"r-1", "14 N·m"}} {
		answer, err := record(call[0], call[1])
		if errors.Is(err, store.ErrRequestReused) {
			fmt.Println("refused:", err)
			continue
		}
		fmt.Printf("%s %v\n", answer, err)
	}
	// Output:
	// number 1 of the build, leaf 0 <nil>
	// number 2 of the build, leaf 1 <nil>
	// number 1 of the build, leaf 0 <nil>
	// refused: request r-1: request id was used for another call
}
