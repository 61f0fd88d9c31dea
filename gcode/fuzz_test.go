package gcode

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func seeds(f *testing.F) {
	for _, folder := range []string{"good", "bad"} {
		for _, text := range corpus(f, folder) {
			f.Add(text)
		}
	}
	for seed := range 5 {
		f.Add([]byte(oddProgram(uint64(seed), 20)))
	}
}

// FuzzParse: no text makes the reader panic; every finding has a place in the
// text; the words lie in order in their blocks; what Run gives are numbers.
func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		p, found := Parse("fuzz.ngc", text)
		last := uint32(0)
		for i, b := range p.Blocks {
			require.LessOrEqual(t, b.First, b.End)
			require.LessOrEqual(t, int(b.End), len(p.Words))
			if i > 0 {
				require.Greater(t, b.Line, p.Blocks[i-1].Line)
				require.GreaterOrEqual(t, b.First, p.Blocks[i-1].End)
			}
			for _, w := range p.Words[b.First:b.End] {
				require.GreaterOrEqual(t, w.Off, b.Off)
				require.Less(t, int(w.Off), len(text))
				require.GreaterOrEqual(t, w.Off, last)
				last = w.Off
				require.Equal(t, w.Letter, text[w.Off]&^0x20)
				require.False(t, math.IsNaN(w.Value) || math.IsInf(w.Value, 0))
			}
		}
		lines := bytes.Count(text, []byte{'\n'}) + 1
		for _, name := range Dialects() {
			d, err := DialectNamed(name)
			require.NoError(t, err)
			s, more := p.Check(d, Setup{}, func(m *Move) {
				require.True(t, finite(m.From[0]+m.From[1]+m.From[2]+m.To[0]+m.To[1]+m.To[2]+m.Centre[0]+m.Centre[1]+m.Feed+m.RPM))
			})
			require.True(t, finite(s.Cut+s.Rapid+s.Seconds+s.Lo[0]+s.Hi[0]+s.Lo[1]+s.Hi[1]+s.Lo[2]+s.Hi[2]))
			found = append(found, more...)
		}
		for _, x := range found {
			require.GreaterOrEqual(t, x.Line, 1)
			require.LessOrEqual(t, x.Line, lines)
			require.GreaterOrEqual(t, x.Column, 1)
			require.NotEmpty(t, x.Text)
			require.Regexp(t, `^RS[0-9]{3}$`, x.Code)
		}
		ParseHead(p)
	})
}

// FuzzRoundTrip: what is read without a finding can be printed, is read back
// without a finding, goes the same way, and printed again is the same text.
func FuzzRoundTrip(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<14 {
			return
		}
		for _, name := range Dialects() {
			for _, inch := range []bool{false, true} {
				d, err := DialectNamed(name)
				require.NoError(t, err)
				p, found := Parse("fuzz.ngc", text)
				var ms []Move
				found = append(found, p.Run(d, func(m *Move) { ms = append(ms, *m) })...)
				if len(found) > 0 || len(ms) > 300 {
					continue // refusing is right, panicking is not
				}
				var once bytes.Buffer
				if err := Print(&once, d, Listing{Moves: ms, Inch: inch}); err != nil {
					continue // beyond the machine
				}
				again, found := Parse("once.ngc", once.Bytes())
				require.Empty(t, found, "cannot read our own output:\n%s", once.String())
				var back []Move
				found = again.Run(d, func(m *Move) { back = append(back, *m) })
				require.Empty(t, found, "cannot run our own output:\n%s", once.String())
				for i := range back {
					require.False(t, math.IsNaN(back[i].Length()))
				}
				// The start is where the machine stands, not a place of the
				// program: print what was read from the second move on.
				var twice bytes.Buffer
				require.NoError(t, Print(&twice, d, Listing{Moves: back, Inch: inch}))
				third, found := Parse("twice.ngc", twice.Bytes())
				require.Empty(t, found)
				var back2 []Move
				require.Empty(t, third.Run(d, func(m *Move) { back2 = append(back2, *m) }))
				var thrice bytes.Buffer
				require.NoError(t, Print(&thrice, d, Listing{Moves: back2, Inch: inch}))
				require.Equal(t, twice.String(), thrice.String(), "from\n%s", once.String())
			}
		}
	})
}
