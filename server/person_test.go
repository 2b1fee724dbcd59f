package server_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/fieldmaskpb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func TestFirstPersonIsForemanAndNeedsNoSession(t *testing.T) {
	s := newShop(t)
	_, err := s.people.EnrolPerson(t.Context(), &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ben", Rank: pb.Rank_RANK_BUILDER})
	badFields(t, err, "rank", "FIRST_IS_FOREMAN")

	fay := s.enrol(t.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN)
	require.Regexp(t, `^people/p-[a-z2-7]{24}$`, fay.GetName())
	require.NotContains(t, fay.GetName(), "fay")

	_, err = s.people.EnrolPerson(t.Context(), &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ben", Rank: pb.Rank_RANK_BUILDER})
	fails(t, err, codes.Unauthenticated, "SESSION_REQUIRED")
}

func TestEnrolPersonRefuses(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	for _, tt := range []struct {
		name string
		req  *pb.EnrolPersonRequest
		want []string
	}{
		{"nothing given", &pb.EnrolPersonRequest{}, []string{"request_id", "MALFORMED_REQUEST_ID", "display_name", "MISSING", "rank", "MISSING"}},
		{"a rank that is none", &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ann", Rank: 9}, []string{"rank", "UNKNOWN_VALUE"}},
		{"a name too long", &pb.EnrolPersonRequest{RequestId: id(), DisplayName: strings.Repeat("a", 101), Rank: 1}, []string{"display_name", "TOO_LONG"}},
		{"a name on two lines", &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ann\nBoss", Rank: 1}, []string{"display_name", "UNPRINTABLE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.people.EnrolPerson(w.fay, tt.req)
			badFields(t, err, tt.want...)
		})
	}
	_, err := s.people.EnrolPerson(w.sam, &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ann", Rank: pb.Rank_RANK_HELPER})
	fails(t, err, codes.PermissionDenied, "RANK_TOO_LOW")
}

func TestEnrolPersonOnceForARequest(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	req := &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ann", Rank: pb.Rank_RANK_HELPER}
	first, err := s.people.EnrolPerson(w.fay, req)
	require.NoError(t, err)
	again, err := s.people.EnrolPerson(w.fay, req)
	require.NoError(t, err)
	equal(t, first, again)

	upper := proto.CloneOf(req)
	upper.RequestId = strings.ToUpper(req.GetRequestId())
	again, err = s.people.EnrolPerson(w.fay, upper)
	require.NoError(t, err)
	equal(t, first, again)

	otherRank, otherName := proto.CloneOf(req), proto.CloneOf(req)
	otherRank.Rank = pb.Rank_RANK_BUILDER
	otherName.DisplayName = "Anne" // in no digest, and told apart all the same
	for _, other := range []*pb.EnrolPersonRequest{otherRank, otherName} {
		_, err = s.people.EnrolPerson(w.fay, other)
		fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
	}
	_, err = s.builds.CreateBuild(w.fay, &pb.CreateBuildRequest{RequestId: req.GetRequestId(), BuildId: "b-1", Sheet: sheet(t, "b-02.yaml")})
	fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
}

func TestListPeopleInPages(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	for _, name := range []string{"Ann", "Bea", "Cid", "Dot"} {
		s.enrol(w.fay, name, pb.Rank_RANK_HELPER)
	}
	var seen []string
	req := &pb.ListPeopleRequest{PageSize: 3}
	for {
		page, err := s.people.ListPeople(t.Context(), req)
		require.NoError(t, err)
		require.LessOrEqual(t, len(page.GetPeople()), 3)
		for _, p := range page.GetPeople() {
			seen = append(seen, p.GetName())
		}
		if page.GetNextPageToken() == "" {
			break
		}
		req.PageToken = page.GetNextPageToken()
	}
	require.Len(t, seen, 7)
	require.IsIncreasing(t, seen)

	for _, tt := range []struct {
		name string
		req  *pb.ListPeopleRequest
		want []string
	}{
		{"a page smaller than nothing", &pb.ListPeopleRequest{PageSize: -1}, []string{"page_size", "OUT_OF_RANGE"}},
		{"a token of another query", &pb.ListPeopleRequest{PageToken: req.GetPageToken(), IncludeRetired: true}, []string{"page_token", "MALFORMED_PAGE_TOKEN"}},
		{"a token that is none", &pb.ListPeopleRequest{PageToken: "***"}, []string{"page_token", "MALFORMED_PAGE_TOKEN"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.people.ListPeople(t.Context(), tt.req)
			badFields(t, err, tt.want...)
		})
	}
	_, err := s.tools.ListTools(w.fay, &pb.ListToolsRequest{PageToken: req.GetPageToken()})
	badFields(t, err, "page_token", "MALFORMED_PAGE_TOKEN")
}

func TestUpdatePerson(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	ann := s.enrol(w.fay, "Ann", pb.Rank_RANK_HELPER)
	change := func(p *pb.Person, paths ...string) (*pb.UpdatePersonResponse, error) {
		return s.people.UpdatePerson(w.fay, &pb.UpdatePersonRequest{RequestId: id(), Person: p, UpdateMask: &fieldmaskpb.FieldMask{Paths: paths}})
	}
	raised, err := change(&pb.Person{Name: ann.GetName(), Etag: ann.GetEtag(), Rank: pb.Rank_RANK_BUILDER}, "rank")
	require.NoError(t, err)
	equal(t, &pb.Person{Name: ann.GetName(), DisplayName: "Ann", Rank: pb.Rank_RANK_BUILDER, Etag: "v2"}, raised.GetPerson())

	_, err = change(&pb.Person{Name: ann.GetName(), Etag: ann.GetEtag(), Rank: pb.Rank_RANK_HELPER}, "rank")
	fails(t, err, codes.Aborted, "ETAG_MISMATCH", resource("", ann.GetName()))
	_, err = change(&pb.Person{Name: ann.GetName(), Etag: "v2"}, "rank", "name")
	badFields(t, err, "update_mask.paths[1]", "UNKNOWN_FIELD", "person.rank", "MISSING")
	_, err = change(&pb.Person{Name: "people/p-nobody", Etag: "v1", Retired: true}, "retired")
	notFound(t, err, "person", "people/p-nobody")
	_, err = s.people.UpdatePerson(w.sam, &pb.UpdatePersonRequest{RequestId: id(), Person: &pb.Person{}})
	fails(t, err, codes.PermissionDenied, "RANK_TOO_LOW")
}

func TestLastForemanStays(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	for _, p := range []*pb.Person{
		{Name: w.fay.name, Etag: "v1", DisplayName: "Fay", Rank: pb.Rank_RANK_BUILDER},
		{Name: w.fay.name, Etag: "v1", DisplayName: "Fay", Rank: pb.Rank_RANK_FOREMAN, Retired: true},
	} {
		_, err := s.people.UpdatePerson(w.fay, &pb.UpdatePersonRequest{RequestId: id(), Person: p})
		fails(t, err, codes.FailedPrecondition, "LAST_FOREMAN", broke("last-foreman", w.fay.name))
	}
	s.enrol(w.fay, "Gus", pb.Rank_RANK_FOREMAN)
	_, err := s.people.UpdatePerson(w.fay, &pb.UpdatePersonRequest{RequestId: id(),
		Person: &pb.Person{Name: w.fay.name, Etag: "v1", DisplayName: "Fay", Rank: pb.Rank_RANK_FOREMAN, Retired: true}})
	require.NoError(t, err)
}
