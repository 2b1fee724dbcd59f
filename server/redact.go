package server

import (
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/descriptorpb"
)

// redacted returns a copy of a message without the fields that the API marks
// debug_redact: names, free text, pictures and tokens.
func redacted(m proto.Message) proto.Message {
	c := proto.Clone(m)
	redact(c.ProtoReflect())
	return c
}

func redact(m protoreflect.Message) {
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case isPersonal(fd):
			m.Clear(fd)
		case fd.IsMap():
			if fd.MapValue().Message() != nil {
				v.Map().Range(func(_ protoreflect.MapKey, value protoreflect.Value) bool {
					redact(value.Message())
					return true
				})
			}
		case fd.Message() == nil:
		case fd.IsList():
			for i := range v.List().Len() {
				redact(v.List().Get(i).Message())
			}
		default:
			redact(v.Message())
		}
		return true
	})
}

func isPersonal(fd protoreflect.FieldDescriptor) bool {
	o, ok := fd.Options().(*descriptorpb.FieldOptions)
	return ok && o.GetDebugRedact()
}
