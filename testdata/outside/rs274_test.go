//go:build outside

package outside

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The worked arc of NISTIR 6556, 3.5.3.2: from (7, 7), G2 X10 Y16 I3 J4 has its
// centre at (10, 11).
func TestOutsideInterpreterAnswers(t *testing.T) {
	canon, refused := RS274(t, []byte("G21 G90\nF100 S1000 M3\nG0 X7 Y7\nG17 G2 X10 Y16 I3 J4 Z9\nG92 X0\nG1 X1\nM2\n"), Options{})
	require.Empty(t, refused)
	require.True(t, canon.Ended)
	require.Len(t, canon.Calls, 3)
	arc := canon.Calls[1]
	require.Equal(t, Arc, arc.Kind)
	require.Equal(t, [2]float64{10, 11}, arc.Centre)
	require.Equal(t, [3]float64{10, 16, 9}, arc.To)
	require.Equal(t, -1, arc.Turns)
	require.Equal(t, 1000.0, arc.RPM)
	require.Equal(t, [3]float64{11, 16, 9}, canon.Calls[2].To, "G92 is added back")

	_, refused = RS274(t, []byte("G21 G90 F100\nG2 X10 Y16 I3 J4\nM2\n"), Options{})
	require.Contains(t, refused, "adius", "from (0, 0) the radii differ")

	_, refused = RS274(t, []byte("%\nG21\nX1\n"), Options{})
	require.NotEmpty(t, refused)
}

func TestOutsidePythonAnswers(t *testing.T) {
	out := Python(t, "versions.py", []byte("ping"), "a", "b")
	require.Contains(t, string(out), "ping a b")
	require.Contains(t, string(out), "shapely")
	require.Contains(t, string(out), "ezdxf")
}
