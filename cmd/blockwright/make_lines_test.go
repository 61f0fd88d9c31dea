package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a full disk kept a batch from coming to was not made either.
func TestSumCountsWhatWasNotComeTo(t *testing.T) {
	var b strings.Builder
	r := makeResult{Fixtures: []madeFixture{{Kept: true}, {}}, Failed: []notMade{{}}}
	require.NoError(t, printSum(&b, r, 18))
	require.Contains(t, b.String(), "\n2 of 18 fixtures: 1 made, 1 kept, 16 not made\n")
}
