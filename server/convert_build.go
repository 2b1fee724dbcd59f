package server

import (
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

func buildToProto(d store.Document, sheet *procedure.Sheet, b *procedure.Build) *pb.Build {
	if sheet == nil {
		sheet = &procedure.Sheet{} // it was erased
	}
	return &pb.Build{
		Name: buildName(d.ID), Sheet: sheetToProto(sheet), HeadSeq: b.Seq, Etag: etagOf(d.Version),
		SheetTime: timeToProto(time.UnixMicro(d.ServerUS)), Released: b.Released != nil,
		Accepted: each(b.Accepted, acceptanceToProto),
	}
}
