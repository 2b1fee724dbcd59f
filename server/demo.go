package server

import (
	"html/template"
	"net/http"
	"slices"
	"strings"
)

// demoHeader stands on every answer of a server with invented data.
const (
	demoHeader = "tightwright-demo"
	demoText   = "invented data, not for real work"
)

var indexTemplate = template.Must(template.New("index").Parse(`<!DOCTYPE html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Tightwright{{if .Demo}} (demo){{end}}</title>
<style>
body { font: 1rem/1.5 sans-serif; max-width: 45rem; margin: 2rem auto; padding: 0 1rem }
.demo { border: 0.3rem double; padding: 0.5rem 1rem; font-weight: bold }
code { font-size: 0.95em }
</style>
<h1>Tightwright</h1>
{{if .Demo}}<p class="demo" role="note">Demo: all data here is invented and kept in a temporary
store that goes when the server ends. Not for real work.</p>{{end}}
<p>This server keeps the record of builds in a bicycle workshop: what is planned, what was done,
who looked. Tablets and other programs call it over gRPC on its other port, or as JSON on this one:</p>
<p><code>POST /{{(index .Services 0).Name}}/{{index (index .Services 0).Methods 0}}</code> with
<code>Content-Type: application/json</code>.</p>
<h2>Services</h2>
{{range .Services}}<h3>{{.Name}}</h3>
<ul>{{range .Methods}}<li><code>{{.}}</code></li>{{end}}</ul>
{{end}}</html>
`))

type indexService struct {
	Name    string
	Methods []string
}

// indexPage says what is here, and what it is not.
func (s *Server) indexPage() http.Handler {
	data := struct {
		Demo     bool
		Services []indexService
	}{Demo: s.options.Demo}
	for name, info := range s.grpc.GetServiceInfo() {
		if !strings.HasPrefix(name, "tightwright.") {
			continue
		}
		one := indexService{Name: name}
		for _, m := range info.Methods {
			one.Methods = append(one.Methods, m.Name)
		}
		slices.Sort(one.Methods)
		data.Services = append(data.Services, one)
	}
	slices.SortFunc(data.Services, func(a, b indexService) int { return strings.Compare(a.Name, b.Name) })
	var page strings.Builder
	if err := indexTemplate.Execute(&page, data); err != nil {
		return refuseWeb(http.StatusInternalServerError, 13, err.Error())
	}
	return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte(page.String())) // the reader may have gone
	})
}
