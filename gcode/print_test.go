package gcode

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// printed is the text of a listing.
func printed(t testing.TB, d *Dialect, l Listing) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Print(&b, d, l))
	return b.String()
}

// sameWay demands that two lists of moves go the same way: points along each lie
// on the other in the same order, rapids on rapids and feed moves on feed moves,
// within tol, and the ways are equally long. Arcs may come in parts and tiny ones
// as lines.
func sameWay(t testing.TB, want, got []Move, tol float64) {
	t.Helper()
	a, b := splitWay(want), splitWay(got)
	onWay(t, a, b, tol, "written")
	onWay(t, b, a, tol, "read back")
	require.InDelta(t, wayLength(a), wayLength(b), 4*tol*float64(len(a)+len(b)))
}

// splitWay leaves out what goes nowhere.
func splitWay(ms []Move) []Move {
	var out []Move
	for _, m := range ms {
		if m.Moves() && m.Length() > 0 {
			out = append(out, m)
		}
	}
	return out
}

// onWay demands that points along a lie on b in order.
func onWay(t testing.TB, a, b []Move, tol float64, what string) {
	t.Helper()
	at := 0
	for i := range a {
		m := &a[i]
		for f := 0.0; f <= 1; f += 0.125 {
			q := m.At(f)
			best, found := math.Inf(1), false
			for j := at; j < len(b) && j < at+400; j++ {
				if (m.Op == Rapid) != (b[j].Op == Rapid) && m.Length() > 3*tol {
					continue
				}
				d := wayDistance(&b[j], q)
				best = min(best, d)
				if d <= tol {
					at, found = j, true
					break
				}
			}
			require.True(t, found, "%s move %d at %g: %v is %g from the other way\n%+v", what, i, f, q, best, *m)
		}
	}
}

func wayLength(ms []Move) float64 {
	l := 0.0
	for i := range ms {
		l += ms[i].Length()
	}
	return l
}

// wayDistance is the distance of a point from a move, by bisection about the best
// of many samples.
func wayDistance(m *Move, q [3]float64) float64 {
	best, at := math.Inf(1), 0.0
	const n = 64
	for k := 0; k <= n; k++ {
		if d := dist3(m.At(float64(k)/n), q); d < best {
			best, at = d, float64(k)/n
		}
	}
	lo, hi := max(0, at-1.0/n), min(1, at+1.0/n)
	for range 60 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if dist3(m.At(a), q) < dist3(m.At(b), q) {
			hi = b
		} else {
			lo = a
		}
	}
	return dist3(m.At((lo+hi)/2), q)
}

// randomMoves is a chain of moves of all kinds and sizes, down to arcs smaller
// than the last decimal.
func randomMoves(seed uint64, n int) []Move {
	r := rand.New(rand.NewPCG(seed, 5))
	at := [3]float64{0, 0, 0}
	var ms []Move
	add := func(m Move) {
		m.From = at
		ms = append(ms, m)
		at = m.To
	}
	add(Move{Op: Rapid, To: [3]float64{0, 0, 5}})
	size := func() float64 { return math.Pow(10, r.Float64()*7-4.5) }
	for range n {
		feed := math.Round(r.Float64()*20000)/10 + 1
		switch r.IntN(6) {
		case 0:
			add(Move{Op: Rapid, To: [3]float64{r.Float64()*300 - 150, r.Float64()*300 - 150, r.Float64() * 10}, RPM: 12000})
		case 1, 2:
			to := at
			for k := range 3 {
				to[k] += (r.Float64() - 0.5) * size()
			}
			add(Move{Op: Line, To: to, Feed: feed, RPM: 12000})
		default:
			m := Move{Op: CW + Op(r.IntN(2)), Plane: uint8(r.IntN(3)), Feed: feed, RPM: 12000}
			a, b, h := m.Axes()
			rad, start := size(), r.Float64()*2*math.Pi
			sweep := 2 * math.Pi * r.Float64()
			m.Centre = orb.Point{at[a] - rad*math.Cos(start), at[b] - rad*math.Sin(start)}
			m.To = at
			if r.IntN(5) > 0 {
				if m.Op == CW {
					sweep = -sweep
				}
				m.To[a] = m.Centre[0] + rad*math.Cos(start+sweep)
				m.To[b] = m.Centre[1] + rad*math.Sin(start+sweep)
			}
			if r.IntN(2) == 0 {
				m.To[h] += (r.Float64() - 0.5) * size()
			}
			add(m)
		}
		for k := range 3 {
			if math.Abs(at[k]) > 5000 {
				add(Move{Op: Rapid, To: [3]float64{0, 0, 50}, RPM: 12000})
			}
		}
	}
	return ms
}

// What is printed is read back without a finding and goes the same way, in every
// dialect and both units.
func TestPrintReadsBack(t *testing.T) {
	for _, name := range Dialects() {
		for _, inch := range []bool{false, true} {
			t.Run(fmt.Sprint(name, " inch ", inch), func(t *testing.T) {
				d, err := DialectNamed(name)
				require.NoError(t, err)
				step := 1e-4
				if inch {
					step = 1e-5 * 25.4
				}
				for seed := range 30 {
					ms := randomMoves(uint64(seed), 40)
					text := printed(t, d, Listing{Head: Head{Inch: inch}.Comment(), Moves: ms, Inch: inch, Dwell: 2})
					got, found := run(t, d, text)
					require.Empty(t, found, "seed %d\n%s", seed, text)
					// Each point is rounded by at most √3/2 steps, a centre by up to
					// two more.
					sameWay(t, ms, got, 3*step)
					for _, line := range strings.Split(text, "\n") {
						require.LessOrEqual(t, len(line), 79)
					}
				}
			})
		}
	}
}

// No arc sweeps more than a half circle, and the radii at both ends agree far
// better than the document asks.
func TestPrintedArcs(t *testing.T) {
	for _, inch := range []bool{false, true} {
		for seed := range 100 {
			text := printed(t, RS274NGC(), Listing{Moves: randomMoves(uint64(seed), 60), Inch: inch})
			got, found := run(t, RS274NGC(), text)
			require.Empty(t, found)
			for _, m := range got {
				if !m.Arc() {
					continue
				}
				a, b, _ := m.Axes()
				r0, r1 := m.Radius(), math.Hypot(m.To[a]-m.Centre[0], m.To[b]-m.Centre[1])
				require.Less(t, math.Abs(r0-r1), 0.0005+0.0008*float64(b2i(inch)))
				if m.Radius() > 0.05 {
					require.Less(t, math.Abs(m.Sweep()), math.Pi+1e-9)
				}
			}
		}
	}
}

// What no machine can do is an error, and nothing is made up.
func TestPrintRefuses(t *testing.T) {
	up := Move{Op: Rapid, To: [3]float64{0, 0, 5}}
	at := up.To
	for _, tt := range []struct {
		name string
		m    Move
		err  string
	}{
		{"no number", Move{Op: Line, From: at, To: [3]float64{math.NaN(), 0, 5}, Feed: 100}, "move 2: X is NaN"},
		{"infinite", Move{Op: Rapid, From: at, To: [3]float64{0, math.Inf(1), 5}}, "Y is +Inf"},
		{"beyond machines", Move{Op: Rapid, From: at, To: [3]float64{0, 0, 10001}}, "want at most 10000 mm"},
		{"no feed", Move{Op: Line, From: at, To: [3]float64{1, 0, 5}}, "feed is 0"},
		{"feed no number", Move{Op: Line, From: at, To: [3]float64{1, 0, 5}, Feed: math.NaN()}, "feed is NaN"},
		{"negative feed", Move{Op: Line, From: at, To: [3]float64{1, 0, 5}, Feed: -5}, "feed is -5"},
		{"gap before it", Move{Op: Line, From: [3]float64{0, 0, 4}, To: [3]float64{1, 0, 5}, Feed: 5}, "starts at Z4, the one before it ends at 5 mm"},
		{"radii differ", Move{Op: CW, From: at, To: [3]float64{2, 0, 5}, Centre: orb.Point{1.1, 0}, Feed: 5}, "starts at radius"},
		{"centre no number", Move{Op: CW, From: at, To: [3]float64{2, 0, 5}, Centre: orb.Point{math.NaN(), 0}, Feed: 5}, "an arc about"},
		{"no such move", Move{Op: 9, From: at, To: at}, "op 9"},
		{"no such speed", Move{Op: Line, From: at, To: [3]float64{1, 0, 5}, Feed: 5, RPM: math.Inf(1)}, "spindle speed"},
		{"negative dwell", Move{Op: Dwell, Feed: -1}, "dwell"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, name := range Dialects() {
				d, _ := DialectNamed(name)
				err := Print(new(bytes.Buffer), d, Listing{Moves: []Move{up, tt.m}})
				require.ErrorContains(t, err, tt.err)
			}
		})
	}
	far := Move{Op: Rapid, From: at, To: [3]float64{0, 9999.99996, 5}}
	require.NoError(t, Print(new(bytes.Buffer), Grbl(), Listing{Moves: []Move{up, far}}))
}

// The writer's first error is the one returned.
func TestPrintKeepsFirstError(t *testing.T) {
	full := &shortWriter{n: 10}
	err := Print(full, RS274NGC(), Listing{Head: []string{strings.Repeat("long ", 40)}, Moves: randomMoves(1, 5000)})
	require.ErrorIs(t, err, errFull)
	require.Equal(t, 1, full.refused, "written to after it refused")
}

var errFull = fmt.Errorf("the disk is full")

type shortWriter struct{ n, refused int }

func (w *shortWriter) Write(p []byte) (int, error) {
	if len(p) > w.n {
		w.refused++
		return w.n, errFull
	}
	w.n -= len(p)
	return len(p), nil
}
