package catalogue_test

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"go.yaml.in/yaml/v3"
)

const schemaBase = "https://github.com/tightwright/tightwright/procedure/catalogue/"

func schemaFiles() []string {
	return []string{catalogue.ProcedureSchema, catalogue.JointsSchema, catalogue.PartsSchema,
		catalogue.ContactsSchema, catalogue.SkillsSchema, catalogue.SheetSchema}
}

// schemas compiles all schema files; the compiler checks each against the
// meta-schema of its draft (2020-12).
func schemas(t testing.TB) map[string]*jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	for _, name := range schemaFiles() {
		data, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		require.NoError(t, err)
		require.NoError(t, c.AddResource(schemaBase+name, doc))
	}
	out := map[string]*jsonschema.Schema{}
	for _, name := range schemaFiles() {
		s, err := c.Compile(schemaBase + name)
		require.NoError(t, err)
		out[name] = s
	}
	return out
}

// plain turns YAML into what a JSON document of the same content would be.
func plain(t testing.TB, data []byte) (any, error) {
	t.Helper()
	var v, second any
	dec := yaml.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(&v); err != nil {
		return nil, err
	}
	if err := dec.Decode(&second); !errors.Is(err, io.EOF) {
		return nil, errors.New("more than one document")
	}
	b, err := json.Marshal(v)
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	require.NoError(t, err)
	return doc, nil
}

func TestBuiltInFilesSatisfyTheirSchema(t *testing.T) {
	all := schemas(t)
	byFolder := map[string]string{catalogue.ProceduresFolder: catalogue.ProcedureSchema,
		catalogue.JointsFolder: catalogue.JointsSchema, catalogue.PartsFolder: catalogue.PartsSchema,
		catalogue.ContactsFolder: catalogue.ContactsSchema, ".": catalogue.SkillsSchema}
	for _, name := range builtInFiles(t) {
		data, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		doc, err := plain(t, data)
		require.NoError(t, err)
		schema, ok := byFolder[path.Dir(name)]
		require.True(t, ok, name)
		require.NoError(t, all[schema].Validate(doc), name)
		require.Regexp(t, `\$schema=(\.\./)?`+regexp.QuoteMeta(schema)+"\n", string(data), "%s tells the editor its schema", name)
	}
}

func TestSheetsSatisfyTheSchema(t *testing.T) {
	schema := schemas(t)[catalogue.SheetSchema]
	for _, file := range sheetFiles(t) {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		doc, err := plain(t, data)
		require.NoError(t, err)
		require.NoError(t, schema.Validate(doc), file)
	}
}

// What the reader refuses by form alone, the schema refuses as well.
func TestSchemaRefusesBrokenProcedures(t *testing.T) {
	schema := schemas(t)[catalogue.ProcedureSchema]
	sound, err := plain(t, []byte(smallJob(t)))
	require.NoError(t, err)
	require.NoError(t, schema.Validate(sound))
	for _, s := range slips {
		doc, err := plain(t, []byte(breakIt(t, s)))
		if err != nil {
			require.False(t, s.bySchema, s.name)
			continue
		}
		refused := schema.Validate(doc) != nil
		require.Equal(t, s.bySchema, refused, s.name)
	}
}

// schemaTypes are the types whose fields the schema must list, each by the
// name of its definition.
func schemaTypes() map[string]reflect.Type {
	return map[string]reflect.Type{
		"procedure": reflect.TypeFor[procedure.Definition](), "skill": reflect.TypeFor[procedure.Skill](),
		"step": reflect.TypeFor[procedure.Step](), "threadChoice": reflect.TypeFor[procedure.ThreadChoice](),
		"prepRule": reflect.TypeFor[procedure.PrepRule](), "prepChoice": reflect.TypeFor[procedure.PrepChoice](),
		"torqueRule": reflect.TypeFor[procedure.TorqueRule](), "jointChoice": reflect.TypeFor[procedure.JointChoice](),
		"check": reflect.TypeFor[procedure.Check](), "hold": reflect.TypeFor[procedure.Hold](),
		"gap": reflect.TypeFor[procedure.Gap](), "stack": reflect.TypeFor[procedure.StackRule](),
		"wait": reflect.TypeFor[procedure.Wait](), "longer": reflect.TypeFor[procedure.Longer](),
		"contact": reflect.TypeFor[procedure.Contact](), "rework": reflect.TypeFor[procedure.Rework](), "source": reflect.TypeFor[procedure.Source](),
		"jointRow": reflect.TypeFor[procedure.JointRow](), "parts": reflect.TypeFor[procedure.Vocabulary](),
		"partRole": reflect.TypeFor[procedure.PartRole](), "partAttribute": reflect.TypeFor[procedure.PartAttribute](),
		"sheet": reflect.TypeFor[procedure.Sheet](), "part": reflect.TypeFor[procedure.Part](),
		"printedFigure": reflect.TypeFor[procedure.PrintedFigure](),
	}
}

type schemaNode struct {
	Ref        string                `json:"$ref"`
	Enum       []string              `json:"enum"`
	Properties map[string]schemaNode `json:"properties"`
	Additional any                   `json:"additionalProperties"`
	Items      *schemaNode           `json:"items"`
	About      string                `json:"description"`
	Defs       map[string]schemaNode `json:"$defs"`
}

func readSchema(t testing.TB) schemaNode {
	t.Helper()
	data, err := fs.ReadFile(catalogue.FS(), catalogue.ProcedureSchema)
	require.NoError(t, err)
	var s schemaNode
	require.NoError(t, json.Unmarshal(data, &s))
	return s
}

// The schema lists the fields of the Go types, no more and no fewer, and says
// something about each.
func TestSchemaListsTheFieldsOfTheTypes(t *testing.T) {
	defs := readSchema(t).Defs
	for name, typ := range schemaTypes() {
		def := defs[name]
		require.NotEmpty(t, def.About, name)
		require.Equal(t, false, def.Additional, "%s lets unknown keys through", name)
		var fields, listed []string
		for i := range typ.NumField() {
			tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("yaml"), ",")
			require.NotEmpty(t, tag, "%s.%s has no yaml tag", typ, typ.Field(i).Name)
			fields = append(fields, tag)
		}
		for p, node := range def.Properties {
			require.NotEmpty(t, node.About, "%s.%s says nothing about itself", name, p)
			listed = append(listed, p)
		}
		require.ElementsMatch(t, fields, listed, name)
	}
}

// wordsOf learns the words a type accepts from its own refusal.
func wordsOf(t testing.TB, u encoding.TextUnmarshaler) []string {
	t.Helper()
	err := u.UnmarshalText([]byte("no such word"))
	require.Error(t, err)
	_, list, ok := strings.Cut(err.Error(), "write one of ")
	require.True(t, ok, err.Error())
	return strings.Split(list, ", ")
}

func TestSchemaListsTheWordsOfTheTypes(t *testing.T) {
	defs := readSchema(t).Defs
	for _, c := range []struct {
		name string
		enum []string
		of   encoding.TextUnmarshaler
	}{
		{"risk", defs["risk"].Enum, new(procedure.Risk)},
		{"prep", defs["prep"].Enum, new(procedure.Prep)},
		{"confidence", defs["source"].Properties["confidence"].Enum, new(procedure.Confidence)},
		{"allowance", defs["procedure"].Properties["allowance"].Enum, new(procedure.Allowance)},
		{"hands", defs["step"].Properties["hands"].Enum, new(procedure.Hands)},
		{"reason", defs["prepChoice"].Properties["reason"].Enum, new(procedure.Reason)},
		{"layout", defs["torqueRule"].Properties["layout"].Enum, new(procedure.Layout)},
		{"zone", defs["prepRule"].Properties["zone"].Enum, new(procedure.FaceZone)},
		{"of", defs["gap"].Properties["of"].Enum, new(procedure.GapShape)},
		{"due", defs["step"].Properties["due"].Enum, new(procedure.Due)},
		{"kind", defs["check"].Properties["kind"].Enum, new(procedure.CheckKind)},
		{"by", defs["hold"].Properties["by"].Enum, new(procedure.Signer)},
	} {
		require.ElementsMatch(t, wordsOf(t, c.of), c.enum, c.name)
	}
}

// Every definition is used, so that none is kept up for nothing.
func TestSchemaHasNoIdleDefinition(t *testing.T) {
	data, err := fs.ReadFile(catalogue.FS(), catalogue.ProcedureSchema)
	require.NoError(t, err)
	others := ""
	for _, name := range schemaFiles()[1:] {
		b, err := fs.ReadFile(catalogue.FS(), name)
		require.NoError(t, err)
		others += string(b)
	}
	for name := range readSchema(t).Defs {
		require.Contains(t, string(data)+others, "#/$defs/"+name+`"`)
	}
}

func sheetFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/sheets/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}
