package server

import (
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// plans finds the plans of jobs. A plan is stored under its digest and never
// changes, so a decoded one may be shared by everybody who only reads it.
type plans struct {
	cached *lru[planKey, *procedure.Plan]
}

type planKey struct{ workshop, digest string }

func newPlans(most int) *plans {
	return &plans{cached: newLRU[planKey, *procedure.Plan](most)}
}

func (c *plans) find(r store.Reader, workshop, digest string) (*procedure.Plan, error) {
	key := planKey{workshop, digest}
	if p, ok := c.cached.get(key); ok {
		return p, nil
	}
	d, err := r.Document(kindPlan, digest)
	if err != nil {
		return nil, fmt.Errorf("read plan %s: %w", digest, err)
	}
	p, err := procedure.DecodePlan(d.Body)
	if err != nil {
		return nil, err
	}
	c.cached.put(key, p)
	return p, nil
}

// putPlan stores a plan under its digest, where it is not stored already.
func putPlan(tx store.Tx, p *procedure.Plan, actor string, at time.Time) error {
	body, digest, err := p.Encode()
	if err != nil {
		return err
	}
	if _, err := tx.Document(kindPlan, digest); !isMissing(err) {
		return err
	}
	_, err = tx.PutDocument(store.Document{Kind: kindPlan, ID: digest, Actor: actor,
		ServerUS: at.UnixMicro(), Body: body}, 0)
	if err != nil {
		return fmt.Errorf("write plan %s: %w", digest, err)
	}
	return nil
}
