// Command tightwright answers for fastener torque and bench assembly in a
// bicycle workshop: it serves the record of builds to tablets, plans jobs,
// audits finished work and makes teaching material from the procedures.
//
// It ends with 0 when all is well, 1 when it found something (a finding of an
// audit, a plan that is stopped, a server that failed) and 2 when what it was
// given cannot be used. What went wrong is one line on standard error.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
