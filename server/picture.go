package server

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"time"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// Bounds of pictures.
const (
	mostPictureBytes = 900 << 10
	mostPictures     = 500 // of one build
)

var mediaTypes = []string{"image/jpeg", "image/png", "image/webp"}

// AddPicture stores a picture.
func (s benchService) AddPicture(ctx context.Context, req *pb.AddPictureRequest) (*pb.AddPictureResponse, error) {
	build, err := readPicture(req)
	if err != nil {
		return nil, err
	}
	a, err := s.newPicture(build, req)
	if err != nil {
		return nil, err
	}
	resp := &pb.AddPictureResponse{}
	err = s.mutate(ctx, req, change{
		do: func(tx store.Tx, at time.Time) (answer, error) {
			by, err := s.actor(ctx, tx)
			if err != nil {
				return answer{}, err
			}
			if err := s.hasBuild(tx, build); err != nil {
				return answer{}, err
			}
			if err := pictureQuota(tx, build); err != nil {
				return answer{}, err
			}
			a.Person, a.ServerUS = by.Person, at.UnixMicro()
			if err := tx.PutAttachment(*a); err != nil {
				return answer{}, fmt.Errorf("store picture: %w", err)
			}
			return answer{ID: a.ID}, nil
		},
		same: func(r store.Reader, was answer) (bool, error) {
			stored, err := r.Attachment(was.ID)
			if err != nil {
				return false, err
			}
			return stored.ErasedUS != 0 || string(stored.Body) == string(req.GetContent()), nil
		},
		show: func(r store.Reader, was answer) error {
			stored, err := r.Attachment(was.ID)
			if err != nil {
				return err
			}
			stored.Body = nil
			resp.Attachment = attachmentToProto(stored)
			return nil
		},
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

func readPicture(req *pb.AddPictureRequest) (string, error) {
	f := mutating(req)
	build, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	if !slices.Contains(mediaTypes, req.GetMediaType()) {
		f.add("media_type", "unknown-media-type", "send one of %s", strings.Join(mediaTypes, ", "))
	}
	switch n := len(req.GetContent()); {
	case n == 0:
		f.add("content", "missing", "this field is required")
	case n > mostPictureBytes:
		f.add("content", "too-large", "a picture has at most %d bytes, not %d: make it smaller", mostPictureBytes, n)
	case http.DetectContentType(req.GetContent()) != req.GetMediaType():
		f.add("content", "other-media-type", "the bytes are no %s", clip(req.GetMediaType()))
	}
	return build, f.err()
}

func (s *Server) newPicture(build string, req *pb.AddPictureRequest) (*store.Attachment, error) {
	id, err := randomID(s.options.Random, picPrefix)
	if err != nil {
		return nil, err
	}
	key := make([]byte, sha256.Size)
	if _, err := io.ReadFull(s.options.Random, key); err != nil {
		return nil, fmt.Errorf("make a key: %w", err)
	}
	return &store.Attachment{ID: id, Build: build, MediaType: req.GetMediaType(), Body: req.GetContent(), Key: key}, nil
}

// pictureQuota counts the pictures of a build.
func pictureQuota(r store.Reader, build string) error {
	all, err := r.Attachments(store.AttachmentQuery{Build: build, After: picPrefix, Limit: mostPictures})
	if err != nil {
		return fmt.Errorf("list pictures: %w", err)
	}
	if len(all) >= mostPictures {
		return errPictureQuota
	}
	return nil
}

// GetAttachment gives a text or a picture that an entry stands for.
func (s benchService) GetAttachment(ctx context.Context, req *pb.GetAttachmentRequest) (*pb.GetAttachmentResponse, error) {
	var f fields
	build, id, err := parseUnder(attachments, req.GetName())
	f.take("name", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.GetAttachmentResponse{}
	err = s.view(ctx, func(r store.Reader) error {
		a, err := r.Attachment(id)
		if isMissing(err) || err == nil && a.Build != build {
			return &missingError{kind: "attachment", name: req.GetName()}
		}
		resp.Attachment = attachmentToProto(a)
		return err
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

func attachmentToProto(a store.Attachment) *pb.Attachment {
	w := &pb.Attachment{Name: attachmentName(a.Build, a.ID), MediaType: a.MediaType, Content: a.Body,
		Person: personName(a.Person), CreateTime: timeToProto(time.UnixMicro(a.ServerUS))}
	if a.ErasedUS != 0 {
		w.EraseTime = timeToProto(time.UnixMicro(a.ErasedUS))
	}
	return w
}
