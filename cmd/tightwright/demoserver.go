package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store/sqlite"
	"github.com/tightwright/tightwright/testdata/week"
)

// A demoClock is the clock of a demonstration: it is set by the script and runs
// on from there, so that an invented week takes a moment.
type demoClock struct {
	mu   sync.Mutex
	at   time.Time
	real time.Time
}

func newDemoClock() *demoClock {
	return &demoClock{at: time.Date(2024, 11, 11, 8, 0, 0, 0, time.UTC), real: time.Now()}
}

// now is the time at the demonstration.
func (c *demoClock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at.Add(time.Since(c.real))
}

// set puts the clock to a time.
func (c *demoClock) set(at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at, c.real = at, time.Now()
}

// A demoServer is a server that runs for a demonstration: a connection to it,
// what is done at the machine itself, and what it keeps.
type demoServer struct {
	conn *grpc.ClientConn
	hall hall
	kept *sqlite.Store
}

// hallOf is what is done at a server of this program.
func hallOf(s *server.Server, clock *demoClock) hall {
	return hall{clock: clock.set, catalogue: func(c *catalogue.Catalogue) error { return useCatalogue(s, c) }}
}

// useCatalogue lets a server plan by a catalogue.
func useCatalogue(s *server.Server, c *catalogue.Catalogue) error {
	all, err := resolveAll(c, c.IDs())
	if err != nil {
		return err
	}
	return s.UseCatalogue(all, c.Vocabulary, c.Contacts)
}

// withDemo starts a server of its own on a free port of this machine, with a
// temporary store, runs fn against it and clears everything up.
func withDemo(ctx context.Context, fn func(demoServer) error) (err error) {
	dir, err := os.MkdirTemp("", "tightwright-demo-")
	if err != nil {
		return fmt.Errorf("make a temporary folder: %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	kept, err := sqlite.Open(filepath.Join(dir, "demo.db"), sqlite.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, kept.Close()) }()
	clock := newDemoClock()
	s, err := newServer(kept, slog.New(slog.DiscardHandler), serveFlags{workshop: defaultWorkshop, demo: true}, clock.now)
	if err != nil {
		return err
	}
	rpc, err := server.Listen("127.0.0.1:0")
	if err != nil {
		return err
	}
	served := make(chan error, 1)
	go func() { served <- s.Serve(rpc, nil) }()
	defer func() {
		err = errors.Join(err, s.Shutdown(context.WithoutCancel(ctx)), <-served)
	}()
	conn, err := grpc.NewClient(rpc.Addr().String(), grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		return fmt.Errorf("connect: %w", err)
	}
	defer func() { err = errors.Join(err, conn.Close()) }()
	return fn(demoServer{conn: conn, hall: hallOf(s, clock), kept: kept})
}

// playWeek plays the invented week through a connection and hands each line,
// with what the server answered, to say.
func playWeek(ctx context.Context, conn grpc.ClientConnInterface, at hall, say func(script.Line, []string) error) error {
	all, err := catalogue.Load()
	if err != nil {
		return err
	}
	p := script.NewPlayer(newWireBench(ctx, conn, at), all.Vocabulary, week.Files)
	for i, name := range week.Scripts() {
		if i > 0 {
			if err := say(script.Line{}, nil); err != nil {
				return err
			}
		}
		if err := playScript(p, name, say); err != nil {
			return fmt.Errorf("the invented week: %s: %w", name, err)
		}
	}
	return nil
}

// playScript plays one script of the week.
func playScript(p *script.Player, name string, say func(script.Line, []string) error) error {
	text, err := week.Files.ReadFile(name)
	if err != nil {
		return err
	}
	lines, err := script.Parse(string(text))
	if err != nil {
		return err
	}
	for _, l := range lines {
		answer, err := p.Play(l)
		if err != nil {
			return err
		}
		if err := say(l, answer); err != nil {
			return err
		}
	}
	return nil
}

// quietly says nothing of a line.
func quietly(script.Line, []string) error { return nil }

// sayTo writes each line as it stands in the script, with its answers.
func sayTo(out io.Writer) func(script.Line, []string) error {
	return func(l script.Line, answer []string) error {
		_, err := io.WriteString(out, script.Format(l, answer))
		return err
	}
}
