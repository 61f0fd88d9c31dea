package outside

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestInchProgramInMM(t *testing.T) {
	got, err := InMM([]byte("(units in, X1)\nG20 G17\nG4 P3\nS18000 M3\nG1 X-1.00001 Y2 F11.811\nG3 X.5 Y0 I-0.25 J0\n"))
	require.NoError(t, err)
	require.Equal(t, "(units in, X1)\nG21 G17\nG4 P3\nS18000 M3\nG1 X-25.400254 Y50.8 F299.9994\nG3 X12.70 Y0.0 I-6.350 J0.0\n", string(got))

	_, err = InMM([]byte("G21\nX1\n"))
	require.Error(t, err)
	_, err = InMM([]byte("G20\nX 1\n"))
	require.Error(t, err)
}
