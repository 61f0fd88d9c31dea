package proof_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode/proof"
)

func TestHoldGoodProgram(t *testing.T) {
	r := proof.Hold(good().ms, mill, plate())
	for _, f := range r.Findings {
		t.Log(f.Code, f.Text)
	}
	require.Empty(t, r.Findings)
	assert.InDelta(t, 0, r.Gouge.Size, 1e-6)
	assert.InDelta(t, 0, r.Leftover.Size, 1e-6)
	require.Len(t, r.Tabs, 2)
	for _, tab := range r.Tabs {
		assert.InDelta(t, 4+mill, tab.Size, 1e-3)
	}
}

func BenchmarkHold(b *testing.B) {
	ms, p := good().ms, plate()
	b.ReportMetric(float64(len(ms)), "moves")
	for b.Loop() {
		proof.Hold(ms, mill, p)
	}
}
