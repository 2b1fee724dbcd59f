// Package week holds the invented week that the demonstration plays: its
// scripts, the rack, the bikes and the procedures that were in force before
// Wednesday noon. All of it is made up.
package week

import (
	"embed"
	"io/fs"
)

// Files are the files of the week.
//
//go:embed *.txt tools.yaml bikes/*.yaml parts/*.yaml before-wednesday/procedures/*.yaml
var Files embed.FS

// Scripts lists the scripts in the order in which they are played, by one
// player: what one of them leaves behind is what the next one finds.
func Scripts() []string {
	return []string{"people.txt", "november.txt", "winter.txt", "monday.txt", "tuesday.txt", "wednesday.txt", "thursday.txt", "friday.txt", "saturday.txt"}
}

// Text returns all the scripts as one, an empty line between them.
func Text(files fs.FS) (string, error) {
	var all string
	for i, name := range Scripts() {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return "", err
		}
		if i > 0 {
			all += "\n"
		}
		all += string(text)
	}
	return all, nil
}
