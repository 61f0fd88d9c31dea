//go:build outside

package gcode

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/testdata/outside"
)

// unlike says where our moves differ from the interpreter's, "" if nowhere. The
// interpreter prints four decimals in program units; offsets are printed apart and
// added, so a coordinate may be off by a step and a half.
func unlike(ms []Move, canon outside.Canon) string {
	calls := canon.Calls
	next := func() *outside.Call {
		for len(calls) > 0 {
			c := &calls[0]
			calls = calls[1:]
			return c
		}
		return nil
	}
	var at [3]float64
	i := 0
	ours := func() *Move {
		for i < len(ms) {
			i++
			if m := &ms[i-1]; m.Op != Pause && !(m.Op == Dwell && m.Feed == 0) {
				return m
			}
		}
		return nil
	}
	for {
		m := ours()
		c := next()
		// Moves of no length are left out here, and one that the printed digits
		// barely show may be left out there.
		for {
			short := c != nil && (c.Kind <= outside.Line && near(c.To, at, 1.6*c.Step) || c.Kind == outside.Dwell && c.Wait == 0)
			mine := m != nil && m.Op <= Line && near(m.To, at, 0.012)
			if short && mine && near(m.To, c.To, 1.6*c.Step) && int(m.Op) == c.Kind {
				break
			}
			if short {
				c = next()
				continue
			}
			if mine && (c == nil || int(m.Op) != c.Kind || !near(m.To, c.To, 1.6*c.Step)) {
				at = m.To
				m = ours()
				continue
			}
			break
		}
		if m == nil && c == nil {
			return ""
		}
		if m == nil || c == nil {
			return fmt.Sprintf("move %d: ours %v, theirs %v", i, m, c)
		}
		say := func(what string) string {
			return fmt.Sprintf("move %d, block %d: %s: ours %+v, theirs %+v", i, m.Block, what, *m, *c)
		}
		want := map[Op]int{Rapid: outside.Rapid, Line: outside.Line, CW: outside.Arc, CCW: outside.Arc, Dwell: outside.Dwell}[m.Op]
		if c.Kind != want {
			return say("kind")
		}
		if m.Op == Dwell {
			if math.Abs(m.Feed-c.Wait) > 1e-4 {
				return say("dwell")
			}
			continue
		}
		if !near(m.To, c.To, 1.6*c.Step) {
			return say("end")
		}
		if m.Arc() {
			if math.Abs(m.Centre[0]-c.Centre[0]) > 1.6*c.Step || math.Abs(m.Centre[1]-c.Centre[1]) > 1.6*c.Step {
				return say("centre")
			}
			if (m.Op == CCW) != (c.Turns > 0) {
				return say("turn")
			}
			if "ZYX"[m.Plane] != c.Plane {
				return say("plane")
			}
		}
		if m.RPM != c.RPM {
			return say("spindle")
		}
		at = m.To
	}
}

func near(a, b [3]float64, tol float64) bool {
	for k := range 3 {
		if math.Abs(a[k]-b[k]) > tol {
			return false
		}
	}
	return true
}

// The odd but good programs: accepted there, the same moves.
func TestOutsideGoodPrograms(t *testing.T) {
	for name, text := range corpus(t, "good") {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d := corpusDialect(name)
			tolerance := "0.002"
			if d.Name == "grbl" {
				tolerance = "0.005"
			}
			ms, found := checked(d, name, text)
			require.Empty(t, found)
			canon, refused := outside.RS274(t, text, outside.Options{RadiusTolerance: tolerance})
			require.Empty(t, refused)
			require.Empty(t, unlike(ms, canon))
			cut, lo, hi, any := canonFigures(canon)
			p, _ := Parse(name, text)
			s, _ := p.Check(d, Setup{}, nil)
			require.InDelta(t, cut, s.Cut, 0.002*float64(len(ms)+1))
			if any {
				for k := range 3 {
					require.InDelta(t, lo[k], s.Lo[k], 0.004)
					require.InDelta(t, hi[k], s.Hi[k], 0.004)
				}
			}
		})
	}
}

// canonFigures are the length of the feed moves and the box around them by dense
// points.
func canonFigures(canon outside.Canon) (cut float64, lo, hi [3]float64, any bool) {
	var at [3]float64
	for k := range 3 {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	for _, c := range canon.Calls {
		if c.Kind == outside.Dwell {
			continue
		}
		from := at
		at = c.To
		if c.Kind == outside.Rapid || c.Kind == outside.Line && from == at {
			continue
		}
		any = true
		n := 1
		point := func(t float64) [3]float64 {
			p := from
			for k := range 3 {
				p[k] += t * (at[k] - from[k])
			}
			return p
		}
		if c.Kind == outside.Arc {
			n = 20000
			ax := map[byte][3]int{'Z': {0, 1, 2}, 'Y': {2, 0, 1}, 'X': {1, 2, 0}}[c.Plane]
			a, b := ax[0], ax[1]
			start := math.Atan2(from[b]-c.Centre[1], from[a]-c.Centre[0])
			end := math.Atan2(at[b]-c.Centre[1], at[a]-c.Centre[0])
			turn := end - start
			for c.Turns > 0 && turn < 1e-5 {
				turn += 2 * math.Pi
			}
			for c.Turns < 0 && turn > -1e-5 {
				turn -= 2 * math.Pi
			}
			r := math.Hypot(from[a]-c.Centre[0], from[b]-c.Centre[1])
			flat := point
			point = func(t float64) [3]float64 {
				p := flat(t)
				s, k := math.Sincos(start + t*turn)
				p[a], p[b] = c.Centre[0]+r*k, c.Centre[1]+r*s
				return p
			}
		}
		last := from
		for i := 0; i <= n; i++ {
			p := point(float64(i) / float64(n))
			if i > 0 {
				cut += dist3(last, p)
			}
			last = p
			for k := range 3 {
				lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
			}
		}
	}
	return cut, lo, hi, any
}

// What is printed is accepted by the strict interpreter, and its moves are those
// that went in.
func TestOutsidePrinted(t *testing.T) {
	for _, name := range Dialects() {
		for _, inch := range []bool{false, true} {
			t.Run(fmt.Sprint(name, " inch ", inch), func(t *testing.T) {
				t.Parallel()
				d, err := DialectNamed(name)
				require.NoError(t, err)
				for seed := range 60 {
					ms := randomMoves(uint64(seed), 60)
					text := printed(t, d, Listing{Head: Head{Inch: inch, Zero: "top", Mill: 3.175}.Comment(), Moves: ms, Inch: inch, Dwell: 2, Dial: seed%2 == 0})
					canon, refused := outside.RS274(t, []byte(text), outside.Options{})
					require.Empty(t, refused)
					require.True(t, canon.Ended)
					got, found := run(t, d, text)
					require.Empty(t, found)
					require.Empty(t, unlike(got, canon))
				}
			})
		}
	}
}

// Thousands of random programs: no finding here, accepted there, the same moves.
func TestOutsideRandomPrograms(t *testing.T) {
	programs := 1200
	if testing.Short() {
		programs = 200
	}
	for k := range 2 {
		t.Run(fmt.Sprint("part", k), func(t *testing.T) {
			t.Parallel()
			for seed := k; seed < programs; seed += 2 {
				text := oddProgram(uint64(seed), 40)
				ms, found := run(t, RS274NGC(), text)
				canon, refused := outside.RS274(t, []byte(text), outside.Options{RadiusTolerance: "0.002"})
				var diff string
				switch {
				case len(found) > 0:
					diff = fmt.Sprint("finding ", found[0])
				case refused != "":
					diff = "refused: " + refused
				default:
					diff = unlike(ms, canon)
				}
				if diff != "" {
					file := filepath.Join(os.TempDir(), fmt.Sprintf("odd%d.ngc", seed))
					_ = os.WriteFile(file, []byte(text), 0o600)
					require.Fail(t, "differs", "seed %d, see %s: %s", seed, file, diff)
				}
			}
		})
	}
}

// What the interpreter refuses is never silent here: random programs with random
// slips of the keyboard.
func TestOutsideRefusals(t *testing.T) {
	programs := 1000
	if testing.Short() {
		programs = 150
	}
	const keys = "GMXYZIJKRFSPNTHLQgx0123456789.-+ ()/%#[]\t"
	for k := range 2 {
		t.Run(fmt.Sprint("part", k), func(t *testing.T) {
			t.Parallel()
			refusals := 0
			for seed := k; seed < programs; seed += 2 {
				r := rand.New(rand.NewPCG(uint64(seed), 9))
				text := []byte(oddProgram(uint64(seed), 12))
				for range 1 + r.IntN(2) {
					i := r.IntN(len(text))
					switch r.IntN(3) {
					case 0:
						text[i] = keys[r.IntN(len(keys))]
					case 1:
						text = append(text[:i], text[i+1:]...)
					case 2:
						text = append(text[:i], append([]byte{keys[r.IntN(len(keys))]}, text[i:]...)...)
					}
				}
				_, refused := outside.RS274(t, text, outside.Options{RadiusTolerance: "0.0021"})
				if refused == "" || strings.Contains(refused, "tool table") {
					continue // a number of a tool is the machine's affair
				}
				refusals++
				_, found := run(t, RS274NGC(), string(text))
				if len(found) == 0 {
					file := filepath.Join(os.TempDir(), fmt.Sprintf("slip%d.ngc", seed))
					_ = os.WriteFile(file, text, 0o600)
					t.Errorf("seed %d, see %s: no finding, and refused there: %s", seed, file, refused)
				}
			}
			t.Logf("%d refusals", refusals)
			require.NotZero(t, refusals)
		})
	}
}
