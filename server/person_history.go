package server

import (
	"fmt"
	"reflect"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/server/store"
)

// eachPerson calls do with the id of every person, in order.
func eachPerson(r store.Reader, do func(person string) error) error {
	for after := ""; ; {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindPerson, After: after, Limit: store.MaxPage})
		if err != nil {
			return fmt.Errorf("list people: %w", err)
		}
		for _, d := range docs {
			if err := do(d.ID); err != nil {
				return err
			}
			after = d.ID
		}
		if len(docs) < store.MaxPage {
			return nil
		}
	}
}

// personHistory lists every change of a person's rank and register. Before the
// first line of skills no register was kept.
func personHistory(r store.Reader, person string) ([]audit.RankSince, []audit.SkillsSince, error) {
	var ranks []audit.RankSince
	var skills []audit.SkillsSince
	var rank procedure.Rank
	var register *procedure.SkillRegister
	for after := int64(0); ; {
		versions, err := r.DocumentVersions(kindPerson, person, after, store.MaxPage)
		if err != nil {
			return nil, nil, fmt.Errorf("list versions of person %s: %w", person, err)
		}
		for _, v := range versions {
			after = v.Version
			_, p, err := decodeDocument[personDoc](v)
			if err != nil {
				return nil, nil, err
			}
			if v.ErasedUS != 0 {
				continue
			}
			since := time.UnixMicro(v.ServerUS).UTC()
			if p.Rank != rank {
				ranks = append(ranks, audit.RankSince{Person: person, Rank: p.Rank, Since: since})
			}
			if !reflect.DeepEqual(p.Skills, register) {
				skills = append(skills, audit.SkillsSince{Person: person, Skills: p.Skills, Since: since})
			}
			rank, register = p.Rank, p.Skills
		}
		if len(versions) < store.MaxPage {
			return ranks, skills, nil
		}
	}
}
