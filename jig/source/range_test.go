package source

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Limits in inches lie inside the true ones, and on them where they have no more
// than three figures.
func TestRangeSaidInInches(t *testing.T) {
	for _, tt := range []struct {
		in   Range
		want string
	}{
		{Within(25.4, 50.8), "1 to 2 in"},
		{Within(-50.8, 25.4), "-2 to 1 in"},
		{Within(0, 500), "0 to 19.6 in"},
		{Within(10, 30), "0.394 to 1.18 in"},
		{Within(-40, 60), "-1.57 to 2.36 in"},
		{Within(-30, -10), "-1.18 to -0.394 in"},
		{Within(-25.4, 0), "-1 to 0 in"},
		{Over(0, 0), "more than 0 in"},
	} {
		assert.Equal(t, tt.want, tt.in.said("in"))
	}
}
