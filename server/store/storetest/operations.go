package storetest

import (
	"fmt"

	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/server/store"
)

// Few names, so that programs meet.
var (
	buildNames   = []string{"b-1", "b-2", "b-3"}
	jobNames     = []string{"", "j-1", "j-2"}
	toolNames    = []string{"t-1", "t-2", "t-3"}
	kindNames    = []string{"tool", "person"}
	idNames      = []string{"a", "a/1", "b"}
	requestNames = []string{"r-1", "r-2", "r-3", "r-4"}
	personNames  = []string{"", "p-1", "p-2"}
)

func pick(names []string) *rapid.Generator[string] { return rapid.SampledFrom(names) }

// reading is an operation that changes nothing.
type reading struct {
	name string
	do   func(r store.Reader) (any, error)
}

func programs() *rapid.Generator[program] {
	return rapid.Custom(func(t *rapid.T) program {
		return program{
			operations: rapid.SliceOfN(operations(), 1, 6).Draw(t, "operations"),
			end:        rapid.SampledFrom([]string{"returns", "returns", "returns", "refuses", "panics"}).Draw(t, "end"),
		}
	})
}

func operations() *rapid.Generator[operation] {
	return rapid.OneOf(appends(), appends(), puts(), puts(), attaches(), answers(), erasures(), reads())
}

func appends() *rapid.Generator[operation] {
	return rapid.Custom(func(t *rapid.T) operation {
		batch := rapid.SliceOfN(modelEntries(), 1, 4).Draw(t, "entries")
		return operation{fmt.Sprintf("append %d", len(batch)), func(tx store.Tx) (any, error) {
			mine := append([]store.Entry(nil), batch...)
			err := tx.Append(mine)
			return mine, err
		}}
	})
}

func modelEntries() *rapid.Generator[store.Entry] {
	return rapid.Custom(func(t *rapid.T) store.Entry {
		e := store.Entry{
			Build:       pick(buildNames).Draw(t, "build"),
			ID:          fmt.Sprintf("e-%d", rapid.IntRange(0, 60).Draw(t, "id")),
			Job:         pick(jobNames).Draw(t, "job"),
			Schema:      rapid.IntRange(1, 3).Draw(t, "schema"),
			Kind:        rapid.StringMatching(`[a-z]{1,8}`).Draw(t, "kind"),
			TabletSeq:   rapid.Int64().Draw(t, "tablet seq"),
			TabletUS:    rapid.Int64().Draw(t, "tablet time"),
			ServerUS:    rapid.Int64Range(0, 5).Draw(t, "server time"),
			OffsetKnown: rapid.Bool().Draw(t, "offset known"),
			Tools:       rapid.SliceOfNDistinct(pick(toolNames), 0, 2, rapid.ID).Draw(t, "tools"),
			Envelope:    rapid.SliceOfN(rapid.Byte(), 1, 20).Draw(t, "envelope"),
			Payload:     rapid.SliceOfN(rapid.Byte(), 0, 20).Draw(t, "payload"),
		}
		if e.OffsetKnown {
			e.OffsetUS = rapid.Int64().Draw(t, "offset")
		}
		if rapid.IntRange(0, 9).Draw(t, "expects") == 0 {
			e.Seq = rapid.Int64Range(1, 3).Draw(t, "seq")
		}
		if len(e.Tools) == 0 {
			e.Tools = nil
		}
		if len(e.Payload) == 0 {
			e.Payload = nil
		}
		return e
	})
}

func puts() *rapid.Generator[operation] {
	return rapid.Custom(func(t *rapid.T) operation {
		kind, id := pick(kindNames).Draw(t, "kind"), pick(idNames).Draw(t, "id")
		d := store.Document{Kind: kind, ID: id, ServerUS: drawTime(t), Body: drawBody(t)}
		expected := rapid.SampledFrom([]int64{0, 0, 0, 1, 1, 2}).Draw(t, "expected")
		return operation{fmt.Sprintf("put %s %s on %d", kind, id, expected), func(tx store.Tx) (any, error) {
			return tx.PutDocument(d, expected)
		}}
	})
}

func attaches() *rapid.Generator[operation] {
	return rapid.Custom(func(t *rapid.T) operation {
		a := store.Attachment{
			ID: pick(idNames).Draw(t, "id"), Build: pick(buildNames).Draw(t, "build"),
			Person: pick(personNames).Draw(t, "person"), MediaType: "text/plain",
			ServerUS: drawTime(t), Body: drawBody(t), Key: drawBody(t),
		}
		return operation{"attach " + a.ID, func(tx store.Tx) (any, error) { return nil, tx.PutAttachment(a) }}
	})
}

func answers() *rapid.Generator[operation] {
	return rapid.Custom(func(t *rapid.T) operation {
		r := store.Request{
			ID: pick(requestNames).Draw(t, "request"), Digest: drawBody(t), Answer: drawBody(t), ServerUS: drawTime(t),
		}
		return operation{"answer " + r.ID, func(tx store.Tx) (any, error) { return nil, tx.PutRequest(r) }}
	})
}

func drawTime(t *rapid.T) int64  { return rapid.Int64Range(1, 9).Draw(t, "time") }
func drawBody(t *rapid.T) []byte { return rapid.SliceOfN(rapid.Byte(), 1, 8).Draw(t, "body") }

func erasures() *rapid.Generator[operation] {
	return rapid.Custom(func(t *rapid.T) operation {
		kind, id := pick(kindNames).Draw(t, "kind"), pick(idNames).Draw(t, "id")
		at := drawTime(t)
		if rapid.Bool().Draw(t, "document") {
			return operation{"erase " + kind + " " + id, func(tx store.Tx) (any, error) {
				return nil, tx.EraseDocument(kind, id, at)
			}}
		}
		return operation{"erase attachment " + id, func(tx store.Tx) (any, error) {
			return nil, tx.EraseAttachment(id, at)
		}}
	})
}

func reads() *rapid.Generator[operation] {
	return rapid.Custom(func(t *rapid.T) operation {
		r := rapid.SampledFrom(everything).Draw(t, "reading")
		return operation{r.name, func(tx store.Tx) (any, error) { return r.do(tx) }}
	})
}

// everything reads all that programs can have written.
var everything = allReadings()

func allReadings() []reading {
	all := []reading{
		{"ledger size", func(r store.Reader) (any, error) { return r.LedgerSize() }},
		{"some leaves", func(r store.Reader) (any, error) { return r.Leaves(2, 3) }},
		{"builds", func(r store.Reader) (any, error) { return r.Builds(store.BuildRow{}, 2) }},
		{"more builds", func(r store.Reader) (any, error) { return r.Builds(store.BuildRow{Build: "b-2", OpenedUS: 3}, 2) }},
		{"jobs", func(r store.Reader) (any, error) { return r.Jobs("", store.JobRow{}, 0) }},
		{"more jobs", func(r store.Reader) (any, error) {
			return r.Jobs("", store.JobRow{Build: "b-2", Job: "j-1", OpenedUS: 2}, 2)
		}},
		{"attachments", func(r store.Reader) (any, error) { return r.Attachments(store.AttachmentQuery{}) }},
		{"entry", func(r store.Reader) (any, error) { return r.EntryByID("e-7") }},
	}
	for _, build := range buildNames {
		all = append(all,
			reading{"head of " + build, func(r store.Reader) (any, error) { return r.Head(build) }},
			reading{"entries of " + build, func(r store.Reader) (any, error) { return r.Entries(build, 1, 2) }},
			reading{"jobs of " + build, func(r store.Reader) (any, error) { return r.Jobs(build, store.JobRow{}, 0) }},
			reading{"attachments of " + build, func(r store.Reader) (any, error) {
				return r.Attachments(store.AttachmentQuery{Build: build, Person: "p-1"})
			}})
	}
	for _, tool := range toolNames {
		all = append(all, reading{"uses of " + tool, func(r store.Reader) (any, error) {
			return r.ToolUses(tool, store.ToolUse{ServerUS: 1}, 4, 0)
		}})
	}
	for _, kind := range kindNames {
		all = append(all, reading{"list of " + kind, func(r store.Reader) (any, error) {
			return r.Documents(store.DocumentQuery{Kind: kind, Prefix: "a"})
		}})
		for _, id := range idNames {
			all = append(all,
				reading{kind + " " + id, func(r store.Reader) (any, error) { return r.Document(kind, id) }},
				reading{"first " + kind + " " + id, func(r store.Reader) (any, error) { return r.DocumentVersion(kind, id, 1) }},
				reading{"versions of " + kind + " " + id, func(r store.Reader) (any, error) {
					return r.DocumentVersions(kind, id, 0, 0)
				}},
				reading{"attachment " + id, func(r store.Reader) (any, error) { return r.Attachment(id) }})
		}
	}
	for _, id := range requestNames {
		all = append(all, reading{"request " + id, func(r store.Reader) (any, error) { return r.Request(id) }})
	}
	return all
}
