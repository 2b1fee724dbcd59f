package sketch_test

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/sketch"
)

func ExampleTaught() {
	c, err := catalogue.Load()
	if err != nil {
		panic(err)
	}
	r, err := c.Resolve("pedals")
	if err != nil {
		panic(err)
	}
	drawings, err := sketch.Taught(r, "tighten-left")
	if err != nil {
		panic(err)
	}
	for _, d := range drawings {
		fmt.Println(d.Name, "-", d.Caption)
	}
	// Output:
	// order - Tighten the left pedal: bolts, order and passes
	// turn - Tighten the left pedal: which way it tightens
}
