package trace_test

import (
	"image"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Tries are the scans that a test draws. The environment says otherwise:
//
//	TRACE_CASES=200      how many
//	TRACE_FROM=1000      the first seed
//	TRACE_SEEDS=17,159   these seeds alone
//	TRACE_DPI=1200       at one density alone
//	TRACE_JPEG=85        as JPEG of that quality
//	TRACE_PIECES=3       so many pieces in one scan
type tries struct {
	seeds   []int
	few     bool // nobody asked for more
	dpi     string
	quality int // 0 for PNG
	pieces  int
}

func triesOf(t *testing.T, n int) tries {
	t.Helper()
	number := func(name string, otherwise int) int {
		v := os.Getenv(name)
		if v == "" {
			return otherwise
		}
		k, err := strconv.Atoi(v)
		require.NoError(t, err, name)
		return k
	}
	o := tries{dpi: os.Getenv("TRACE_DPI"), quality: number("TRACE_JPEG", 0), pieces: number("TRACE_PIECES", 1)}
	cases, from := number("TRACE_CASES", 0), number("TRACE_FROM", 0)
	if o.few = cases == 0; o.few {
		cases = n
	}
	for k := range cases {
		o.seeds = append(o.seeds, from+k)
	}
	if v := os.Getenv("TRACE_SEEDS"); v != "" {
		o.seeds, o.few = nil, false
		for w := range strings.SplitSeq(v, ",") {
			k, err := strconv.Atoi(w)
			require.NoError(t, err, "TRACE_SEEDS")
			o.seeds = append(o.seeds, k)
		}
	}
	return o
}

func (o tries) skips(dpi int) bool { return o.dpi != "" && o.dpi != strconv.Itoa(dpi) }

// file is the picture as a file.
func (o tries) file(t *testing.T, m image.Image) []byte {
	t.Helper()
	if o.quality > 0 {
		return jpegOf(t, m, o.quality)
	}
	return pngOf(t, m)
}
