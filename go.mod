module github.com/tightwright/tightwright

go 1.26.0
