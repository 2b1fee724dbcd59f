package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

func TestJointDoesNotAllocate(t *testing.T) {
	b := benchBolt(t)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := b.AtTorque(5 * torque.NewtonMeter); err != nil {
			t.Error(err)
		}
	}))
}

func benchBolt(tb testing.TB) joint.Bolt {
	tb.Helper()
	return joint.Bolt{
		Thread: mustParse(tb, "M5"), Class: mustClass(tb, "8.8"), ThreadFriction: mustBand(tb, 0.1, 0.12, 0.16),
		ToolDeviation: 0.04, Seat: mustMaterial(tb, "AW-6061"),
	}
}

func BenchmarkBoltAtTorque(b *testing.B) {
	bolt := benchBolt(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := bolt.AtTorque(5 * torque.NewtonMeter); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBoltAtUtilization(b *testing.B) {
	bolt := benchBolt(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := bolt.AtUtilization(0.9); err != nil {
			b.Fatal(err)
		}
	}
}
