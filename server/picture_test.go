package server_test

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

func TestPictureStandsBesideTheRecord(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("load-sprockets")
	req := &pb.AddPictureRequest{RequestId: id(), Build: "builds/b-1", MediaType: "image/png", Content: aPNG}
	added, err := s.bench.AddPicture(w.ben, req)
	require.NoError(t, err)
	require.Empty(t, added.GetAttachment().GetContent())
	again, err := s.bench.AddPicture(w.ben, req)
	require.NoError(t, err)
	equal(t, added, again)
	other := proto.CloneOf(req)
	other.Content = append(bytes.Clone(aPNG), 'x')
	_, err = s.bench.AddPicture(w.ben, other)
	fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")

	name := added.GetAttachment().GetName()
	e := s.record(w.ben, "b-1", &pb.Command{Action: &pb.Command_TakePhoto{TakePhoto: &pb.TakePhoto{Job: jobName, Step: "load-sprockets",
		Check: "sprockets-photo", Picture: name}}})[0]
	require.Equal(t, name, e.GetPhotoTaken().GetPicture().GetAttachment())
	got, err := s.bench.GetAttachment(w.sam, &pb.GetAttachmentRequest{Name: name})
	require.NoError(t, err)
	equal(t, &pb.Attachment{Name: name, MediaType: "image/png", Content: aPNG, Person: w.ben.name,
		CreateTime: added.GetAttachment().GetCreateTime()}, got.GetAttachment())
}

// The record holds a keyed digest of what people wrote, the text itself stands
// beside it; with the text and its key gone, the record is as it was.
func TestTextStandsBesideTheRecord(t *testing.T) {
	s, w, _ := cassetteShop(t)
	const note = "rider Ostrander says it creaks"
	e := s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, note))[0]
	ref := e.GetLookTaken().GetNote()
	got, err := s.bench.GetAttachment(w.sam, &pb.GetAttachmentRequest{Name: ref.GetAttachment()})
	require.NoError(t, err)
	require.Equal(t, note, string(got.GetAttachment().GetContent()))

	attachment := ref.GetAttachment()[strings.LastIndex(ref.GetAttachment(), "/")+1:]
	require.NoError(t, s.store.Update(t.Context(), "workshop", func(tx store.Tx) error {
		a, err := tx.Attachment(attachment)
		require.NoError(t, err)
		mac := hmac.New(sha256.New, a.Key)
		mac.Write([]byte(note))
		require.Equal(t, hex.EncodeToString(mac.Sum(nil)), ref.GetHmacSha256())
		stored, err := tx.Entries("b-1", 0, 0)
		require.NoError(t, err)
		for _, x := range stored {
			require.NotContains(t, string(x.Envelope)+string(x.Payload), "Ostrander")
		}
		return tx.EraseAttachment(attachment, opening.UnixMicro())
	}))
	got, err = s.bench.GetAttachment(w.sam, &pb.GetAttachmentRequest{Name: ref.GetAttachment()})
	require.NoError(t, err)
	require.Empty(t, got.GetAttachment().GetContent())
	require.NotNil(t, got.GetAttachment().GetEraseTime())
	equal(t, e, s.entries(w.ben, "b-1", e.GetSeq()-1)[0])
}

func TestAddPictureRefuses(t *testing.T) {
	s, w, _ := cassetteShop(t)
	for _, tt := range []struct {
		name  string
		media string
		body  []byte
		want  []string
	}{
		{"nothing", "", nil, []string{"media_type", "UNKNOWN_MEDIA_TYPE", "content", "MISSING"}},
		{"a page", "text/html", []byte("<html>"), []string{"media_type", "UNKNOWN_MEDIA_TYPE", "content", "OTHER_MEDIA_TYPE"}},
		{"a page that says it is a picture", "image/png", []byte("<html>"), []string{"content", "OTHER_MEDIA_TYPE"}},
		{"another kind of picture", "image/jpeg", aPNG, []string{"content", "OTHER_MEDIA_TYPE"}},
		{"a picture too large", "image/png", append(bytes.Clone(aPNG), make([]byte, 900<<10)...), []string{"content", "TOO_LARGE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.bench.AddPicture(w.ben, &pb.AddPictureRequest{RequestId: id(), Build: "builds/b-1", MediaType: tt.media, Content: tt.body})
			badFields(t, err, tt.want...)
		})
	}
	_, err := s.bench.AddPicture(w.ben, &pb.AddPictureRequest{RequestId: id(), Build: "builds/b-9", MediaType: "image/png", Content: aPNG})
	notFound(t, err, "build", "builds/b-9")
	s.bike(w.ben, "b-2", "b-02.yaml")
	other := s.picture(w.ben, "b-2")
	elsewhere := strings.Replace(other, "b-2", "b-1", 1)
	_, err = s.bench.GetAttachment(w.ben, &pb.GetAttachmentRequest{Name: elsewhere})
	notFound(t, err, "attachment", elsewhere)
	_, err = s.bench.GetAttachment(w.ben, &pb.GetAttachmentRequest{Name: "builds/b-1/attachments/../x"})
	badFields(t, err, "name", "MALFORMED_NAME")
}

func TestPictureQuota(t *testing.T) {
	s, w, _ := cassetteShop(t)
	require.NoError(t, s.store.Update(t.Context(), "workshop", func(tx store.Tx) error {
		for range 499 {
			if err := tx.PutAttachment(store.Attachment{ID: "pic-" + id(), Build: "b-1", MediaType: "image/png", ServerUS: 1, Body: aPNG, Key: aPNG}); err != nil {
				return err
			}
		}
		return nil
	}))
	s.picture(w.ben, "b-1")
	_, err := s.bench.AddPicture(w.ben, &pb.AddPictureRequest{RequestId: id(), Build: "builds/b-1", MediaType: "image/png", Content: aPNG})
	fails(t, err, codes.ResourceExhausted, "PICTURE_QUOTA")
}
