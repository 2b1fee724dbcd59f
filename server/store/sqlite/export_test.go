package sqlite

import (
	"io/fs"
	"slices"
)

// ChangedSetup says what a test wants to be different. The zero value changes
// nothing.
type ChangedSetup struct {
	Steps   fs.FS    // migrations
	Begin   string   // statement that begins a transaction of the writer
	Pragmas []string // further ones, of the write connection
}

// OpenChanged is Open with a changed setup.
func OpenChanged(path string, o Options, c ChangedSetup) (*Store, error) {
	u := setup{steps: Migrations(), dialect: dialect(), pragmas: slices.Concat(writePragmas, c.Pragmas)}
	if c.Steps != nil {
		u.steps = c.Steps
	}
	if c.Begin != "" {
		u.dialect.Begin = c.Begin
	}
	return u.open(path, o)
}

// Migrations returns the real ones.
func Migrations() fs.FS {
	steps, err := fs.Sub(migrations, "migrations")
	if err != nil {
		panic(err)
	}
	return steps
}

// WriteDSN and ReadDSN are how the store opens its file.
func WriteDSN(path string) string { return dsn(path, writePragmas...) }
func ReadDSN(path string) string  { return dsn(path, readPragmas...) }
