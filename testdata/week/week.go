// Package week holds the invented week that the demonstration plays: a script,
// the rack and the bikes. All of it is made up.
package week

import "embed"

// Files are the files of the week; week.txt is the script.
//
//go:embed week.txt tools.yaml bikes/*.yaml
var Files embed.FS
