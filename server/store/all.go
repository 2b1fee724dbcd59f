package store

import "iter"

// All yields every entry of a build in order, those with Seq > afterSeq, and
// reads them page by page. An error is yielded once, with a zero Entry, and
// ends the sequence.
func All(r EntryReader, build string, afterSeq int64) iter.Seq2[Entry, error] {
	return func(yield func(Entry, error) bool) {
		for {
			page, err := r.Entries(build, afterSeq, MaxPage)
			if err != nil {
				yield(Entry{}, err)
				return
			}
			for _, e := range page {
				if !yield(e, nil) {
					return
				}
				afterSeq = e.Seq
			}
			if len(page) < MaxPage {
				return
			}
		}
	}
}
