package server

import (
	"bytes"
	"context"
	"net/http"
	"time"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/card"
	"github.com/tightwright/tightwright/server/store"
)

// GetBuildCard gives the whole of a build as sheets to print.
func (s buildService) GetBuildCard(ctx context.Context, req *pb.GetBuildCardRequest) (*pb.GetBuildCardResponse, error) {
	var f fields
	id, err := parseID(builds, req.GetName())
	f.take("name", err)
	at := s.workStarts(&f, req.GetTime())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.GetBuildCardResponse{MediaType: card.MediaType}
	err = s.view(ctx, func(r store.Reader) error {
		in, err := s.planInput(ctx, r, bike{build: id}, nil)
		if err != nil {
			return err
		}
		resp.Content, err = s.card(in, at)
		return err
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

func (s *Server) card(in planInput, at time.Time) ([]byte, error) {
	all := s.procedures().all()
	whole, err := procedure.NewWhole(all, in.sheet, in.tools, at, in.policy)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = card.Write(&out, card.Card{Whole: whole, Tools: in.tools, Catalogue: card.Revision(all),
		Invented: in.sheet.Invented || s.options.Demo})
	return out.Bytes(), err
}

// cardPage shows the card of a build on the web port. It makes the call that a
// page would make, over the connection inside, so that the same rules hold.
func cardPage(conn grpc.ClientConnInterface) http.Handler {
	client := pb.NewBuildServiceClient(conn)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		ctx := r.Context()
		if token := r.Header.Get("Authorization"); token != "" {
			ctx = metadata.AppendToOutgoingContext(ctx, "authorization", token)
		}
		resp, err := client.GetBuildCard(ctx, &pb.GetBuildCardRequest{Name: buildName(r.PathValue("build"))})
		if err != nil {
			st := withReason(status.Convert(err))
			refuseStatus(runtime.HTTPStatusFromCode(st.Code()), st).ServeHTTP(w, r)
			return
		}
		w.Header().Set("Content-Type", resp.GetMediaType())
		_, _ = w.Write(resp.GetContent()) // the reader may have gone
	})
}
