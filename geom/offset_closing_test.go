package geom

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Closing a bar with a slot by a mill's radius, grow and then shrink, gives the bar
// back but for two fillets in the slot's bottom, also where its corners collapse to
// points on the way.
func TestClosingOfACrossbar(t *testing.T) {
	p, err := NewPath(true, V(0, 80), V(0, -80), B(27, -80, 0.41421356237309503), V(30, -77), V(30, -3.1),
		V(14.9, -3.1), V(14.9, 3.1), V(30, 3.1), B(30, 77, 0.41421356237309503), V(27, 80))
	require.NoError(t, err)
	for _, rho := range []float64{1, 1.5, 1.5875, 2, 3, 3.05, 3.1} {
		grown, err := Region{p}.Offset(rho)
		require.NoError(t, err)
		wall, err := grown.Offset(-rho)
		require.NoError(t, err)
		require.Len(t, wall, 1, "rho %g", rho)
		require.InDelta(t, p.Area(), wall.Area(), 2*0.2147*rho*rho+1e-6, "rho %g", rho)
	}
}
