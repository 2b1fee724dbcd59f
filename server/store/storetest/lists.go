package storetest

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

// pages reads a list to its end, limit rows at a time.
func pages[T any](t testing.TB, limit int, read func(after T) ([]T, error)) []T {
	t.Helper()
	var all []T
	var after T
	for {
		page, err := read(after)
		require.NoError(t, err)
		require.LessOrEqual(t, len(page), limit)
		all = append(all, page...)
		if len(page) < limit {
			return all
		}
		after = page[limit-1]
	}
}

func testLists(t *testing.T, open Open) {
	s := opened(t, open)
	// Six builds, opened two at a time in the same microsecond, with two jobs
	// each and one entry that belongs to no job.
	var builds []store.BuildRow
	var jobs []store.JobRow
	var uses []store.ToolUse
	for n := range 6 {
		build := fmt.Sprintf("build-%d", n)
		at := int64(1000 + n/2)
		all := entries(build, 0, 4)
		for i := range all {
			all[i].ServerUS = at + int64(i)*10
			all[i].Tools = []string{"wrench", "adapter"}[:i%3]
		}
		all[0].Job, all[1].Job, all[2].Job, all[3].Job = "", "job-a", "job-b", "job-a"
		appendAll(t, s, all)
		builds = append([]store.BuildRow{{Build: build, Head: 4, OpenedUS: at, ChangedUS: at + 30}}, builds...)
		jobs = append(jobs,
			store.JobRow{Build: build, Job: "job-a", OpenSeq: 2, OpenedUS: at + 10},
			store.JobRow{Build: build, Job: "job-b", OpenSeq: 3, OpenedUS: at + 20})
		uses = append(uses, store.ToolUse{Tool: "wrench", ServerUS: at + 10, Build: build, Seq: 2})
	}
	for _, limit := range []int{1, 2, 4, 100} {
		t.Run(fmt.Sprintf("in pages of %d", limit), func(t *testing.T) {
			view(t, s, func(r store.Reader) {
				require.Equal(t, builds, pages(t, limit, func(after store.BuildRow) ([]store.BuildRow, error) {
					return r.Builds(after, limit)
				}))
				require.Equal(t, latestFirst(jobs), pages(t, limit, func(after store.JobRow) ([]store.JobRow, error) {
					return r.Jobs("", after, limit)
				}))
				require.Equal(t, []store.JobRow{jobs[5], jobs[4]}, pages(t, limit, func(after store.JobRow) ([]store.JobRow, error) {
					return r.Jobs("build-2", after, limit)
				}))
			})
		})
	}
	t.Run("uses of a tool", func(t *testing.T) { testToolUses(t, s, uses) })
	t.Run("a limit of 0 is the largest page", func(t *testing.T) {
		appendAll(t, s, entries("long", 0, store.MaxPage+1))
		view(t, s, func(r store.Reader) {
			page, err := r.Entries("long", 0, 0)
			require.NoError(t, err)
			require.Len(t, page, store.MaxPage)
			page, err = r.Entries("long", 0, store.MaxPage+1)
			require.NoError(t, err)
			require.Len(t, page, store.MaxPage)
			require.Len(t, whole(t, r, "long"), store.MaxPage+1)
		})
	})
}

// latestFirst sorts the way jobs are listed: by time, build and id, downwards.
// The jobs are given by build and then by id, upwards.
func latestFirst(jobs []store.JobRow) []store.JobRow {
	var sorted []store.JobRow
	for _, j := range jobs {
		at := 0
		for at < len(sorted) && (sorted[at].OpenedUS > j.OpenedUS) {
			at++
		}
		sorted = append(sorted[:at], append([]store.JobRow{j}, sorted[at:]...)...)
	}
	return sorted
}

func testToolUses(t *testing.T, s store.Store, first []store.ToolUse) {
	view(t, s, func(r store.Reader) {
		for _, c := range []struct {
			name        string
			tool        string
			from, until int64
			want        []store.ToolUse
		}{
			{"all, by time", "wrench", 0, 1020, first},
			{"the first microsecond counts", "wrench", first[2].ServerUS, first[2].ServerUS + 1, first[2:4]},
			{"the last does not", "wrench", first[2].ServerUS, first[4].ServerUS, first[2:4]},
			{"none", "wrench", 1 << 40, 0, nil},
			{"unknown tool", "unknown", 0, 0, nil},
		} {
			got := pages(t, 2, func(after store.ToolUse) ([]store.ToolUse, error) {
				if after.Build == "" {
					after.ServerUS = c.from
				}
				return r.ToolUses(c.tool, after, c.until, 2)
			})
			require.Equal(t, c.want, got, c.name)
		}
		adapter, err := r.ToolUses("adapter", store.ToolUse{}, 0, 0)
		require.NoError(t, err)
		require.Len(t, adapter, len(first), "the second tool of an entry")
	})
}
