package sqlstore

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"fmt"
)

// session is one connection and the statements prepared on it. It is used by
// one goroutine at a time. Transactions are begun and ended by statements, not
// by sql.Tx, so that the prepared statements serve every transaction.
type session struct {
	conn  *sql.Conn
	stmts map[string]*sql.Stmt
}

func newSession(ctx context.Context, db *sql.DB) (*session, error) {
	conn, err := db.Conn(ctx)
	if err != nil {
		return nil, fmt.Errorf("connect: %w", err)
	}
	return &session{conn: conn, stmts: make(map[string]*sql.Stmt)}, nil
}

func (s *session) prepared(query string) (*sql.Stmt, error) {
	if stmt, ok := s.stmts[query]; ok {
		return stmt, nil
	}
	// A statement outlives the call that prepares it, so no caller's context.
	stmt, err := s.conn.PrepareContext(context.Background(), query)
	if err != nil {
		return nil, err
	}
	s.stmts[query] = stmt
	return stmt, nil
}

// exec runs a statement and returns the number of rows it changed.
func (s *session) exec(ctx context.Context, query string, args ...any) (int64, error) {
	stmt, err := s.prepared(query)
	if err != nil {
		return 0, err
	}
	result, err := stmt.ExecContext(ctx, args...)
	if err != nil {
		return 0, err
	}
	return result.RowsAffected()
}

func (s *session) query(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	stmt, err := s.prepared(query)
	if err != nil {
		return nil, err
	}
	return stmt.QueryContext(ctx, args...)
}

// close releases the statements and gives the connection back.
func (s *session) close() error {
	for _, stmt := range s.stmts {
		_ = stmt.Close() // the connection goes away with all of them
	}
	return s.conn.Close()
}

// discard closes the connection for good, whatever state its transaction is in.
func (s *session) discard() {
	for _, stmt := range s.stmts {
		_ = stmt.Close()
	}
	// database/sql drops a connection that says it is bad; what it returns is
	// just that.
	_ = s.conn.Raw(func(any) error { return driver.ErrBadConn })
	_ = s.conn.Close()
}
