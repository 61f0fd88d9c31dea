package gcode

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"
)

// shortLines is a program of n short lines as finishing passes have them: lines
// and arcs with four decimals.
func shortLines(n int) []byte {
	rnd := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	b.WriteString("G21 G17 G90\nG0 Z5\nS18000 M3\nG1 Z1 F900\n")
	x, y := 0.0, 0.0
	for i := range n - 5 {
		if i%8 == 7 {
			r := 1 + float64(rnd.IntN(200000))/1e4
			fmt.Fprintf(&b, "G2 X%.4f Y%.4f I%.4f J0\n", x+2*r, y, r)
			x += 2 * r
			if x > 300 {
				x = 0
				fmt.Fprintf(&b, "G1 X0\n")
			}
			continue
		}
		x, y = float64(rnd.IntN(3000000))/1e4, float64(rnd.IntN(3000000))/1e4
		fmt.Fprintf(&b, "G1 X%.4f Y%.4f\n", x, y)
	}
	b.WriteString("M30\n")
	return b.Bytes()
}

// BenchmarkReadback is parsing and running, on one core.
func BenchmarkReadback(b *testing.B) {
	text := shortLines(200_000)
	lines := bytes.Count(text, []byte{'\n'})
	d := RS274NGC()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	moves := 0
	for b.Loop() {
		p, found := Parse("bench.ngc", text)
		moves = 0
		found = append(found, p.Run(d, func(m *Move) { moves++ })...)
		if len(found) > 0 {
			b.Fatal(found[0])
		}
	}
	b.ReportMetric(float64(lines)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mlines/s")
}

// BenchmarkParse is the parsing alone.
func BenchmarkParse(b *testing.B) {
	text := shortLines(200_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		Parse("bench.ngc", text)
	}
}

// BenchmarkCheck is parsing, running, the checks against the sheet, the figures
// and the time: what the command readback does with a program of no drawing.
func BenchmarkCheck(b *testing.B) {
	text := shortLines(200_000)
	lines := bytes.Count(text, []byte{'\n'})
	d := RS274NGC()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		p, found := Parse("bench.ngc", text)
		_, ran := p.Check(d, Setup{}, nil)
		if len(found)+len(ran) > 0 {
			b.Fatal(append(found, ran...)[0])
		}
	}
	b.ReportMetric(float64(lines)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mlines/s")
}

// BenchmarkPrint is printing moves.
func BenchmarkPrint(b *testing.B) {
	p, _ := Parse("bench.ngc", shortLines(200_000))
	var ms []Move
	p.Run(RS274NGC(), func(m *Move) { ms = append(ms, *m) })
	for b.Loop() {
		if err := Print(io.Discard, RS274NGC(), Listing{Moves: ms}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(ms))*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mmoves/s")
}
