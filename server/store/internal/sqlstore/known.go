package sqlstore

// row names a workshop, or a job if it is complete.
type row struct{ workshop, build, job string }

// maxKnown bounds what is remembered, at about a megabyte.
const maxKnown = 10_000

// knownRows remembers rows that are committed, to spare a statement that would
// only find them there. It may forget, but must never be wrong: only rows that
// nothing removes may be in it. The zero value is empty.
type knownRows struct{ rows map[row]struct{} }

func (k *knownRows) has(r row) bool {
	_, ok := k.rows[r]
	return ok
}

func (k *knownRows) add(rows []row) {
	if k.rows == nil || len(k.rows)+len(rows) > maxKnown {
		k.rows = make(map[row]struct{})
	}
	for _, r := range rows {
		k.rows[r] = struct{}{}
	}
}
