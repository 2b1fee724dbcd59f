package drawing_test

import (
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

func thread(tb rapid.TB, text string) joint.Thread {
	tb.Helper()
	t, err := joint.ParseThread(text)
	require.NoError(tb, err)
	return t
}

func class(tb rapid.TB, text string) joint.Class {
	tb.Helper()
	c, err := joint.ParseClass(text)
	require.NoError(tb, err)
	return c
}

func friction(tb rapid.TB, low, nominal, high float64) joint.Friction {
	tb.Helper()
	f, err := joint.NewFrictionBand(low, nominal, high)
	require.NoError(tb, err)
	return f
}

func material(tb rapid.TB, text string) joint.Material {
	tb.Helper()
	m, err := joint.ParseMaterial(text)
	require.NoError(tb, err)
	return m
}

func figure(tb rapid.TB, digits string, unit torque.Unit) torque.Figure {
	tb.Helper()
	f, err := torque.ParseFigure(digits, unit)
	require.NoError(tb, err)
	return f
}

func tightened(tb rapid.TB, b joint.Bolt, at torque.Torque) joint.Tightened {
	tb.Helper()
	t, err := b.AtTorque(at)
	require.NoError(tb, err)
	return t
}

func grip(tb rapid.TB, c joint.Clamp) joint.ClampGrip {
	tb.Helper()
	g, err := c.Grip()
	require.NoError(tb, err)
	return g
}

func load(tb rapid.TB, s joint.SprocketStack) joint.SplineLoad {
	tb.Helper()
	l, err := s.Load()
	require.NoError(tb, err)
	return l
}

// chosen is a setting that was chosen for a window.
func chosen(tb rapid.TB, a wrench.AdapterDescription, tool wrench.Description, at torque.Figure, low, high torque.Torque) drawing.SettingView {
	tb.Helper()
	adapter, err := wrench.NewAdapter(a)
	require.NoError(tb, err)
	setting, err := adapter.Setting(at)
	require.NoError(tb, err)
	w, err := wrench.New(tool)
	require.NoError(tb, err)
	window, err := torque.NewWindow(low, high)
	require.NoError(tb, err)
	aim, err := at.Torque()
	require.NoError(tb, err)
	choice, err := w.With(adapter).Choose(window, aim, wrench.AllowTool)
	require.NoError(tb, err)
	return drawing.SettingView{At: at, Setting: setting, Adapter: &a, Wrench: w, Window: window, Choice: &choice,
		Graduation: figure(tb, tool.Graduation, tool.Unit)}
}
