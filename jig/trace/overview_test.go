package trace

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestMedian(t *testing.T) {
	assert.Zero(t, median(nil))
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.Float64Range(-3, 3)
		if rapid.Bool().Draw(t, "ties") {
			few = rapid.Map(rapid.IntRange(-3, 3), func(k int) float64 { return float64(k) })
		}
		v := rapid.SliceOfN(few, 1, 60).Draw(t, "v")
		was, s := slices.Clone(v), slices.Sorted(slices.Values(v))
		want := s[len(s)/2]
		if len(s)%2 == 0 {
			want = (s[len(s)/2-1] + want) / 2
		}
		assert.Equal(t, want+0, median(v)+0)
		assert.Equal(t, was, v)
		for k := range s {
			assert.Equal(t, s[k]+0, nth(slices.Clone(v), k)+0)
		}
	})
}
