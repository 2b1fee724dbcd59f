package server

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// A Sink takes an export, part by part: first the rack, the ranks and the registers of skills, then each
// plan before the first entry that names it, and the entries in the order of
// the ledger. No name and no free text is in an export.
type Sink interface {
	Tool(tool procedure.Tool) error
	Rank(person string, rank procedure.Rank, since time.Time) error
	// Skills gives a person's register from a time on; nil when it was given up.
	Skills(person string, skills *procedure.SkillRegister, since time.Time) error
	// Plan gives the bytes as they are stored; digest is their SHA-256.
	Plan(digest string, data []byte) error
	// Entry gives the bytes as they are stored, which the ledger holds.
	Entry(build string, envelope, payload []byte) error
}

// exportPage is how many entries one snapshot reads, so that a long export does
// not hold old versions of the store.
const exportPage = 500

// Export hands a workshop's record to a sink. What is recorded while it runs
// may be part of it or not; what it gives is whole up to its last entry.
func Export(ctx context.Context, from store.Store, workshop string, to Sink) error {
	err := from.View(ctx, workshop, func(r store.Reader) error {
		if err := exportTools(r, to); err != nil {
			return err
		}
		return exportPeople(r, to)
	})
	if err != nil {
		return fmt.Errorf("export %s: %w", workshop, err)
	}
	x := exporter{to: to, plans: map[string]bool{}}
	for !x.done {
		if err := from.View(ctx, workshop, x.page); err != nil {
			return fmt.Errorf("export %s: %w", workshop, err)
		}
	}
	return nil
}

func exportTools(r store.Reader, to Sink) error {
	for after := ""; ; {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindTool, After: after})
		if err != nil {
			return err
		}
		for _, d := range docs {
			_, tool, err := decodeDocument[procedure.Tool](d)
			if err != nil {
				return err
			}
			if err := to.Tool(tool); err != nil {
				return err
			}
			after = d.ID
		}
		if len(docs) < store.MaxPage {
			return nil
		}
	}
}

// exportPeople gives every rank and register a person has had, with the time it
// began.
func exportPeople(r store.Reader, to Sink) error {
	return eachPerson(r, func(person string) error {
		ranks, skills, err := personHistory(r, person)
		if err != nil {
			return err
		}
		for _, one := range ranks {
			if err := to.Rank(person, one.Rank, one.Since); err != nil {
				return err
			}
		}
		for _, one := range skills {
			if err := to.Skills(person, one.Skills, one.Since); err != nil {
				return err
			}
		}
		return nil
	})
}

// An exporter goes through the ledger page by page.
type exporter struct {
	to    Sink
	next  int64
	plans map[string]bool
	done  bool
}

func (x *exporter) page(r store.Reader) error {
	leaves, err := r.Leaves(x.next, exportPage)
	if err != nil {
		return err
	}
	for _, e := range leaves {
		if err := x.plan(r, e); err != nil {
			return err
		}
		if err := x.to.Entry(e.Build, e.Envelope, e.Payload); err != nil {
			return err
		}
		x.next = e.LedgerIndex + 1
	}
	x.done = len(leaves) < exportPage
	return nil
}

// plan gives the plan that an entry names, once.
func (x *exporter) plan(r store.Reader, e store.Entry) error {
	if e.Kind != (procedure.JobOpened{}).Kind() && e.Kind != (procedure.PartSwapped{}).Kind() {
		return nil
	}
	var named struct {
		PlanDigest string `json:"plan_digest"`
	}
	if err := json.Unmarshal(e.Payload, &named); err != nil {
		return fmt.Errorf("decode entry %s: %w", e.ID, err)
	}
	if x.plans[named.PlanDigest] {
		return nil
	}
	x.plans[named.PlanDigest] = true
	d, err := r.Document(kindPlan, named.PlanDigest)
	if err != nil {
		return fmt.Errorf("read plan %s: %w", named.PlanDigest, err)
	}
	return x.to.Plan(named.PlanDigest, d.Body)
}
