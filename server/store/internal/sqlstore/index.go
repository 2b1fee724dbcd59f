package sqlstore

import (
	"database/sql"
	"math"

	"github.com/tightwright/tightwright/server/store"
)

const (
	selectBuilds = `SELECT b.build, e.seq, b.opened_us, e.server_us
 FROM builds b JOIN entries e ON e.workshop = b.workshop AND e.build = b.build AND e.seq =
 (SELECT max(l.seq) FROM entries l WHERE l.workshop = b.workshop AND l.build = b.build)
 WHERE b.workshop = $1 AND (b.opened_us, b.build) < ($2, $3)
 ORDER BY b.opened_us DESC, b.build DESC LIMIT $4`

	selectJobs = `SELECT build, job, open_seq, opened_us FROM jobs
 WHERE workshop = $1 AND (opened_us, build, job) < ($2, $3, $4)
 ORDER BY opened_us DESC, build DESC, job DESC LIMIT $5`

	selectJobsOfBuild = `SELECT build, job, open_seq, opened_us FROM jobs
 WHERE workshop = $1 AND build = $2 AND (opened_us, job) < ($3, $4)
 ORDER BY opened_us DESC, job DESC LIMIT $5`

	selectToolUses = `SELECT tool, server_us, build, seq FROM entry_tools
 WHERE workshop = $1 AND tool = $2 AND (server_us, build, seq) > ($3, $4, $5) AND server_us < $6
 ORDER BY server_us, build, seq LIMIT $7`

	selectWorkshops = `SELECT workshop, size, created_us FROM workshops
 WHERE workshop > $1 ORDER BY workshop LIMIT $2`
)

func (r *reader) Builds(after store.BuildRow, limit int) ([]store.BuildRow, error) {
	scan := func(rows *sql.Rows) (store.BuildRow, error) {
		var b store.BuildRow
		err := rows.Scan(&b.Build, &b.Head, &b.OpenedUS, &b.ChangedUS)
		return b, err
	}
	if after.Build == "" {
		after.OpenedUS = math.MaxInt64
	}
	return list(r, "list builds", scan, selectBuilds, r.workshop, after.OpenedUS, after.Build, pageLimit(limit))
}

func (r *reader) Jobs(build string, after store.JobRow, limit int) ([]store.JobRow, error) {
	scan := func(rows *sql.Rows) (store.JobRow, error) {
		var j store.JobRow
		err := rows.Scan(&j.Build, &j.Job, &j.OpenSeq, &j.OpenedUS)
		return j, err
	}
	if after.Job == "" {
		after.OpenedUS = math.MaxInt64
	}
	if build == "" {
		return list(r, "list jobs", scan, selectJobs,
			r.workshop, after.OpenedUS, after.Build, after.Job, pageLimit(limit))
	}
	return list(r, "list jobs of build "+build, scan, selectJobsOfBuild,
		r.workshop, build, after.OpenedUS, after.Job, pageLimit(limit))
}

func (r *reader) ToolUses(tool string, after store.ToolUse, untilUS int64, limit int) ([]store.ToolUse, error) {
	scan := func(rows *sql.Rows) (store.ToolUse, error) {
		var u store.ToolUse
		err := rows.Scan(&u.Tool, &u.ServerUS, &u.Build, &u.Seq)
		return u, err
	}
	if untilUS == 0 {
		untilUS = math.MaxInt64
	}
	return list(r, "list uses of tool "+tool, scan, selectToolUses,
		r.workshop, tool, after.ServerUS, after.Build, after.Seq, untilUS, pageLimit(limit))
}

func (r *reader) workshops(after string, limit int) ([]store.Workshop, error) {
	scan := func(rows *sql.Rows) (store.Workshop, error) {
		var w store.Workshop
		err := rows.Scan(&w.ID, &w.Size, &w.CreatedUS)
		return w, err
	}
	return list(r, "list workshops", scan, selectWorkshops, after, pageLimit(limit))
}
