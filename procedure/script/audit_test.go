package script_test

import (
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/script"
)

func auditBuild(*procedure.Build, []procedure.Tool, script.Hand) ([]script.Found, error) { return nil, nil }
