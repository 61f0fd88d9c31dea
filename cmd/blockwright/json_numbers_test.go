package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRoundNumbers(t *testing.T) {
	for _, tt := range []struct{ in, out string }{
		{`[0.19999999999999929, -3.4e-16, 19, -7.800000000000001]`, `[0.2, 0, 19, -7.8]`},
		{`{"a 0.19999999999999929 \" 1.00000000000001": 1e-7}`, `{"a 0.19999999999999929 \" 1.00000000000001": 1e-7}`},
		{`12345678.123456789012`, `12345678.123456789012`},
		{`"\\"`, `"\\"`},
		{`[]`, `[]`},
	} {
		assert.Equal(t, tt.out, string(roundNumbers([]byte(tt.in))))
	}
}

// Whatever is written stays JSON with the same strings and nearly the same numbers.
func TestRoundNumbersKeepsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := map[string]float64{}
		for range rapid.IntRange(0, 5).Draw(t, "n") {
			in[rapid.String().Draw(t, "key")] = rapid.Float64().Draw(t, "v")
		}
		text, err := json.Marshal(in)
		require.NoError(t, err)
		var out map[string]float64
		require.NoError(t, json.Unmarshal(roundNumbers(text), &out))
		require.Len(t, out, len(in))
		var plain map[string]float64
		require.NoError(t, json.Unmarshal(text, &plain))
		for k, v := range plain {
			assert.InDelta(t, v, out[k], jsonStep)
		}
	})
}
