package gcode

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func line(x0, y0, x1, y1, feed float64) Move {
	return Move{Op: Line, From: [3]float64{x0, y0, 0}, To: [3]float64{x1, y1, 0}, Feed: feed}
}

// Times of moves by hand: v = a·t, s = a·t²/2.
func TestSeconds(t *testing.T) {
	d := Drive{Rapid: 6000, Accel: 100, Corner: 0.01} // 100 mm/s, 100 mm/s²
	for _, tt := range []struct {
		name string
		ms   []Move
		want float64
	}{
		{"nothing", nil, 0},
		// 1 s and 50 mm to speed up, the same to slow down, 100 mm between.
		{"long", []Move{line(0, 0, 200, 0, 6000)}, 3},
		// Never at speed: half the way up, half down, 2·√(s/a).
		{"short", []Move{line(0, 0, 4, 0, 6000)}, 0.4},
		{"rapid", []Move{{Op: Rapid, To: [3]float64{200, 0, 0}}}, 3},
		{"straight on", []Move{line(0, 0, 50, 0, 6000), line(50, 0, 200, 0, 6000)}, 3},
		{"turning back", []Move{line(0, 0, 200, 0, 6000), line(200, 0, 0, 0, 6000)}, 6},
		{"dwell", []Move{line(0, 0, 100, 0, 6000), {Op: Dwell, Feed: 2.5}, line(100, 0, 200, 0, 6000)}, 2 + 2.5 + 2},
		{"pause", []Move{line(0, 0, 100, 0, 6000), {Op: Pause}, line(100, 0, 200, 0, 6000)}, 4},
		{"no length", []Move{line(0, 0, 0, 0, 6000)}, 0},
		{"no feed", []Move{line(0, 0, 10, 0, 0)}, 0},
		// A circle of radius 4 is gone round at √(100·4) = 20 mm/s: 2π·4/20, and
		// 0.2 s more for speeding up and slowing down.
		{"circle", []Move{{Op: CCW, From: [3]float64{4, 0, 0}, To: [3]float64{4, 0, 0}, Feed: 6000}}, 2*math.Pi*4/20 + 0.2},
	} {
		t.Run(tt.name, func(t *testing.T) { require.InDelta(t, tt.want, Seconds(tt.ms, d), 1e-9) })
	}
	// A right angle is passed at v² = a·δ·s/(1-s), s = sin 45°.
	v := math.Sqrt(100 * 0.01 * math.Sqrt2 / 2 / (1 - math.Sqrt2/2))
	side := 1 + (100-v)/100 + (100-50-(100*100-v*v)/200)/100
	require.InDelta(t, 2*side, Seconds([]Move{line(0, 0, 100, 0, 6000), line(100, 0, 100, 100, 6000)}, d), 1e-9)
}

// The chunks in which the clock looks ahead change nothing that shows, and long
// lists take the time of their length at speed.
func TestSecondsOfLongLists(t *testing.T) {
	d := Drive{Rapid: 6000, Accel: 100, Corner: 0.01}
	var ms []Move
	n := 20000
	for i := range n {
		ms = append(ms, line(float64(i), 0, float64(i+1), 0, 6000))
	}
	require.InDelta(t, float64(n)/100+1, Seconds(ms, d), 1e-6)

	// Tiny chords of a circle: the junctions let them pass as the circle would.
	var chords []Move
	m := Move{Op: CCW, From: [3]float64{50, 0, 0}, To: [3]float64{50, 0, 0}, Centre: orb.Point{}, Feed: 1200}
	for i := range n {
		c := Move{Op: Line, From: m.At(float64(i) / float64(n)), To: m.At(float64(i+1) / float64(n)), Feed: 1200}
		chords = append(chords, c)
	}
	require.InDelta(t, Seconds([]Move{m}, d), Seconds(chords, d), 0.05)
}

// Never faster than the feed allows, never slower than stopping at every move.
func TestSecondsBounds(t *testing.T) {
	for seed := range 50 {
		ms := randomMoves(uint64(seed), 200)
		fast, slow := 0.0, 0.0
		for i := range ms {
			top := SmallDrive.Rapid / 60
			if ms[i].Cuts() {
				top = ms[i].Feed / 60
			}
			fast += ms[i].Length() / top
			slow += Seconds(ms[i:i+1], SmallDrive)
		}
		got := Seconds(ms, SmallDrive)
		require.GreaterOrEqual(t, got, fast-1e-9)
		require.LessOrEqual(t, got, slow+1e-6)
	}
	require.Equal(t, Seconds(randomMoves(1, 50), SmallDrive), Seconds(randomMoves(1, 50), Drive{}))
}
