package server

import (
	"math"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// finite wants every number of an answer to be one. What is sent may be so small
// or so large, each figure within its range, that the result is not.
func (f *fields) finite(path string, answer proto.Message) {
	if !isFinite(answer.ProtoReflect()) {
		f.add(path, "out-of-range", "some figure is so small or so large that the result is no number")
	}
}

func isFinite(m protoreflect.Message) bool {
	sound := true
	m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case field.Kind() == protoreflect.DoubleKind:
			sound = !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
		case field.Kind() == protoreflect.MessageKind && !field.IsList():
			sound = isFinite(v.Message())
		}
		return sound
	})
	return sound
}
