package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// defaultWorkshop is the workshop of a record that was given no other name.
const defaultWorkshop = "workshop"

// serveFlags is what serve is told.
type serveFlags struct {
	store, listen, web, workshop string
	reflection, demo             bool
}

func newServeCommand() *cobra.Command {
	var f serveFlags
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Keep the record of a workshop and answer its tablets",
		Long: `Keep the record of a workshop in a file and answer calls: gRPC on one port, the
same calls as JSON over HTTP on another. It writes both addresses once it
answers, then one line a call on standard error.

Only this machine may call until TLS and credentials are configured: any other
address is refused.

--demo keeps everything in a temporary file that goes when the server ends, and
says so on every answer.`,
		Example: `  tightwright serve --store workshop.db
  tightwright serve --demo --reflection
  tightwright serve --store workshop.db --listen 127.0.0.1:7301 --web 127.0.0.1:7302`,
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE:              func(cmd *cobra.Command, _ []string) error { return serve(cmd, f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.store, "store", "", "the file that keeps the record; made where there is none")
	flags.StringVar(&f.listen, "listen", "127.0.0.1:7301", "the address for gRPC; port 0 takes a free one")
	flags.StringVar(&f.web, "web", "127.0.0.1:7302", "the address for HTTP; port 0 takes a free one")
	flags.StringVar(&f.workshop, "workshop", defaultWorkshop, "the id of the workshop in the record")
	flags.BoolVar(&f.reflection, "reflection", false, "let clients ask for the descriptors of the API")
	flags.BoolVar(&f.demo, "demo", false, "use a temporary file and say that the data is invented")
	return cmd
}

// serve runs the server until it is told to end.
func serve(cmd *cobra.Command, f serveFlags) (err error) {
	if f.demo == (f.store != "") {
		return badInput("give --store FILE, or --demo for a temporary one")
	}
	ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	path, remove, err := storePath(f)
	if err != nil {
		return finding("%s", err)
	}
	defer remove()
	kept, err := openStore(cmd, path)
	if err != nil {
		return err
	}
	defer func() {
		if closing := kept.Close(); closing != nil && err == nil {
			err = finding("%s", closing)
		}
	}()
	level := new(slog.LevelVar)
	log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), &slog.HandlerOptions{Level: level}))
	clock := newDemoClock()
	now := time.Now
	if f.demo {
		now = clock.now
	}
	s, err := newServer(kept, log, f, now)
	if err != nil {
		return badInput("%s", err)
	}
	rpc, web, err := listen(f)
	if err != nil {
		return badInput("%s", err)
	}
	return serveUntil(ctx, s, rpc, web, func() error {
		if f.demo {
			level.Set(slog.LevelWarn) // the played week is not worth a line a call
			if err := seedDemo(ctx, rpc.Addr().String(), hallOf(s, clock)); err != nil {
				return err
			}
			level.Set(slog.LevelInfo)
		}
		return sayServing(cmd, f, rpc, web)
	})
}

// seedDemo plays the invented week, so that there is something to look at.
func seedDemo(ctx context.Context, address string, at hall) error {
	conn, err := grpc.NewClient(address, grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		return fmt.Errorf("connect: %w", err)
	}
	return errors.Join(playWeek(ctx, conn, at, quietly), conn.Close())
}

// serveUntil serves until ctx ends, and then shuts down. ready runs once calls
// are answered.
func serveUntil(ctx context.Context, s *server.Server, rpc, web net.Listener, ready func() error) error {
	served := make(chan error, 1)
	go func() { served <- s.Serve(rpc, web) }()
	if err := ready(); err != nil {
		return finding("%s", errors.Join(err, s.Shutdown(context.WithoutCancel(ctx)), <-served))
	}
	select {
	case err := <-served:
		return finding("%s", err)
	case <-ctx.Done():
	}
	if err := errors.Join(s.Shutdown(context.WithoutCancel(ctx)), <-served); err != nil {
		return finding("%s", err)
	}
	return nil
}

// storePath says where the record is kept, and how to clear up afterwards.
func storePath(f serveFlags) (path string, remove func(), err error) {
	if !f.demo {
		return f.store, func() {}, nil
	}
	dir, err := os.MkdirTemp("", "tightwright-demo-")
	if err != nil {
		return "", nil, fmt.Errorf("make a temporary folder: %w", err)
	}
	return filepath.Join(dir, "demo.db"), func() { _ = os.RemoveAll(dir) }, nil
}

// mendable are the faults of a store that whoever named it can mend.
var mendable = []error{store.ErrForeign, store.ErrNewerStore, store.ErrInUse, store.ErrReadOnly, os.ErrNotExist, os.ErrPermission}

// openStore opens the file that keeps a record. What is wrong with the file is
// bad input; a disk that fails is not.
func openStore(cmd *cobra.Command, path string) (*sqlite.Store, error) {
	s, err := sqlite.Open(path, sqlite.Options{})
	if err == nil {
		return s, nil
	}
	for _, fault := range mendable {
		if errors.Is(err, fault) {
			return nil, refused(cmd, wrong(reasonBadFile, "%s", err))
		}
	}
	return nil, finding("%s", err)
}

func newServer(kept store.Store, log *slog.Logger, f serveFlags, now func() time.Time) (*server.Server, error) {
	all, err := catalogue.Load()
	if err != nil {
		return nil, err
	}
	var procedures []*procedure.Resolved
	for _, id := range all.IDs() {
		p, err := all.Resolve(id)
		if err != nil {
			return nil, err
		}
		procedures = append(procedures, p)
	}
	return server.New(
		server.Deps{Store: kept, Procedures: procedures, Vocabulary: all.Vocabulary, Contacts: all.Contacts, Log: log},
		server.Options{Workshop: f.workshop, Reflection: f.reflection, Demo: f.demo, Now: now})
}

func listen(f serveFlags) (rpc, web net.Listener, err error) {
	if rpc, err = server.Listen(f.listen); err != nil {
		return nil, nil, err
	}
	if web, err = server.Listen(f.web); err != nil {
		return nil, nil, errors.Join(err, rpc.Close())
	}
	return rpc, web, nil
}

// serving is what serve says once it answers.
type serving struct {
	GRPC string `json:"grpc"`
	Web  string `json:"web"`
	Demo bool   `json:"demo"`
}

func sayServing(cmd *cobra.Command, f serveFlags, rpc, web net.Listener) error {
	at := serving{GRPC: rpc.Addr().String(), Web: "http://" + web.Addr().String() + "/", Demo: f.demo}
	if wantsJSON(cmd) {
		return writeJSON(cmd, at)
	}
	text := fmt.Sprintf("gRPC on %s\nweb  on %s\n", at.GRPC, at.Web)
	if f.demo {
		text += "Demo: the data is invented and goes when the server ends. Not for real work.\n" +
			"An invented week of March 2025 is played already; the clock of the demo runs on from its end.\n"
	}
	_, err := io.WriteString(cmd.OutOrStdout(), text)
	return err
}
