package drawing_test

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
)

func ExampleJoint() {
	thread, _ := joint.ParseThread("M8x1.25")
	class, _ := joint.ParseClass("8.8")
	friction, _ := joint.NewFriction(0.12)
	bolt := joint.Bolt{Thread: thread, Class: class, ThreadFriction: friction}
	result, err := bolt.AtTorque(20 * torque.NewtonMeter)
	if err != nil {
		fmt.Println(err)
		return
	}
	svg, err := drawing.Joint(result)
	if err != nil {
		fmt.Println(err)
		return
	}
	for line := range strings.Lines(string(svg)) {
		if strings.HasPrefix(line, "<title") {
			fmt.Print(line)
		}
	}
	// Output:
	// <title id="joint-title">M8x1.25, class 8.8: 20 N·m gives 15 kN (11 kN to 19 kN)</title>
}
