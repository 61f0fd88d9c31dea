package proof_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
)

// facingLike has what a facing has: a notch from below with a relieved corner,
// relieved round it to a part of its depth; and a shut pocket with an island.
func facingLike(shift float64) route.Job {
	k := math.Tan(math.Pi / 8)
	p := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(20, 20), geom.V(60, 20), geom.B(62, 45, -k), geom.V(66, 49), geom.B(80, 49, -0.3), geom.V(86, 42),
		geom.V(88, 20), geom.V(180, 20), geom.V(180, 85), geom.V(20, 85),
	}}
	floor := geom.Region{{Closed: true, V: []geom.Vertex{
		geom.V(54, 17.8), geom.V(94, 17.8), geom.B(92, 52, k), geom.V(88, 56), geom.B(60, 56, k), geom.V(56, 52),
	}}}
	shut := geom.Region{rounded(110, 35, 165, 75, 3), rounded(125, 48, 140, 60, 1.5).Reverse()}
	j := route.Job{
		Name: "facing", Wall: geom.Region{p}, Thick: 6, Allowance: 0.15, Climb: true,
		Drill:   []geom.Path{geom.Circle(orb.Point{30, 75}, 4)},
		Bare:    []geom.Path{p.Cut(38, 130)},
		Pockets: []route.Pocket{{Floor: floor, Depth: 4}, {Floor: shut, Depth: 2}},
	}
	grown, err := j.Wall.Offset(3.2 / 2)
	if err == nil {
		j.Wall, err = grown.Offset(-3.2 / 2)
	}
	if err != nil {
		panic(err)
	}
	m := geom.Shift(shift, 0)
	j.Wall, j.Drill, j.Bare = j.Wall.Move(m), geom.MoveAll(j.Drill, m), geom.MoveAll(j.Bare, m)
	for i := range j.Pockets {
		j.Pockets[i].Floor = j.Pockets[i].Floor.Move(m)
	}
	return j
}

func pocketTrades() []*trade {
	var out []*trade
	for _, d := range []float64{2, 3.175} {
		for _, hold := range []string{route.Tabs, route.Screws, route.Skin} {
			for _, inch := range []bool{false, true} {
				t := roughTool(d)
				t.Hold, t.ZeroTop, t.Spring = hold, inch, inch
				out = append(out, &trade{
					name: hold, jobs: []route.Job{facingLike(0)}, tool: t, dialect: gcode.RS274NGC(), inch: inch,
				})
			}
		}
	}
	return out
}

func TestPocketPrograms(t *testing.T) {
	for _, w := range pocketTrades() {
		t.Run(w.name, func(t *testing.T) {
			found, r, ms := w.judge(w.print(t))
			for i, f := range found {
				if i < 12 {
					t.Log(f)
				}
			}
			require.Empty(t, found)
			t.Logf("%d moves, gouge %.6f, leftover %.6f, %d tabs", len(ms), r.Gouge.Size, r.Leftover.Size, len(r.Tabs))
			assert.LessOrEqual(t, r.Gouge.Size, 0.0005)
			assert.LessOrEqual(t, r.Leftover.Size, 0.0005)
		})
	}
}

// What is wrong with a pocket is told as what it is.
func TestPocketFaults(t *testing.T) {
	tool := roughTool(3.175)
	w := &trade{jobs: []route.Job{facingLike(0)}, tool: tool, dialect: gcode.RS274NGC()}
	text := w.print(t)
	_, _, ms := w.judge(text)
	require.NotEmpty(t, ms)
	part := w.part()
	hold := func(part proof.Part) proof.Report { return proof.Hold(ms, tool.Diameter, part) }
	require.Empty(t, hold(part).Findings)
	codes := func(r proof.Report) map[string]bool {
		out := map[string]bool{}
		for _, f := range r.Findings {
			out[f.Code] = true
		}
		return out
	}
	with := func(i int, change func(*proof.Pocket)) proof.Part {
		p := part
		p.Pockets = append([]proof.Pocket(nil), part.Pockets...)
		change(&p.Pockets[i])
		return p
	}
	for i, depth := range []float64{4, 2} {
		for _, d := range []float64{0.003, 0.3} {
			r := hold(with(i, func(k *proof.Pocket) { k.Depth = depth - d }))
			assert.Equal(t, map[string]bool{proof.PocketDeep: true}, codes(r), "cut %g too deep", d)
			assert.InDelta(t, d, r.Gouge.Size, 1e-4)
			r = hold(with(i, func(k *proof.Pocket) { k.Depth = depth + d }))
			assert.True(t, codes(r)[proof.PocketLeft], "cut %g too shallow", d)
			assert.Greater(t, r.Leftover.Size, 1.0)
		}
		for _, d := range []float64{0.003, 0.1} {
			grown, err := part.Pockets[i].Floor.Offset(d)
			require.NoError(t, err)
			r := hold(with(i, func(k *proof.Pocket) { k.Floor = grown }))
			assert.Equal(t, map[string]bool{proof.PocketLeft: true}, codes(r), "wall %g too far in", d)
			assert.InDelta(t, d, r.Leftover.Size, 0.1*d+2e-4)
			shrunk, err := part.Pockets[i].Floor.Offset(-d)
			require.NoError(t, err)
			r = hold(with(i, func(k *proof.Pocket) { k.Floor = shrunk }))
			assert.Equal(t, map[string]bool{proof.Gouged: true}, codes(r), "wall %g too far out", d)
			assert.InDelta(t, d, r.Gouge.Size, 2e-4)
		}
	}
	// The same moves against a part without pockets, and with one more.
	none := part
	none.Pockets = nil
	assert.True(t, codes(hold(none))[proof.Gouged])
	more := part
	more.Pockets = append(append([]proof.Pocket(nil), part.Pockets...), proof.Pocket{Floor: geom.Region{rounded(30, 30, 45, 50, 3)}, Depth: 1})
	assert.Equal(t, map[string]bool{proof.PocketLeft: true}, codes(hold(more)))
	// A rib left standing in the middle of a floor, the wall all right.
	rib := part
	rib.Pockets = append([]proof.Pocket(nil), part.Pockets...)
	rib.Pockets[1].Floor = geom.Region{rounded(110, 35, 165, 75, 3)}
	assert.Equal(t, map[string]bool{proof.PocketLeft: true}, codes(hold(rib)), "the island stands")
	// A tab at a pocket.
	tabbed := part
	at := hold(part).Tabs[0].At
	tabbed.Pockets = append(append([]proof.Pocket(nil), part.Pockets...), proof.Pocket{Floor: geom.Region{rounded(at[0]-4, at[1]-4, at[0]+4, at[1]+4, 2)}, Depth: 1})
	assert.True(t, codes(hold(tabbed))[proof.TabPocket])
	for _, bad := range []proof.Pocket{
		{Floor: part.Pockets[0].Floor, Depth: 0}, {Floor: part.Pockets[0].Floor, Depth: 6}, {Floor: part.Pockets[0].Floor, Depth: math.NaN()},
		{Depth: 2}, {Floor: geom.Region{{V: []geom.Vertex{geom.V(30, 30), geom.V(40, 30), geom.V(40, 40)}}}, Depth: 2},
		{Floor: geom.Region{geom.Rect(500, 500, 510, 510)}, Depth: 2},
	} {
		p := part
		p.Pockets = []proof.Pocket{bad}
		assert.Equal(t, map[string]bool{proof.PartUnfit: true}, codes(hold(p)))
	}
}

// A pocket cut after the outline that holds its plate is told.
func TestPocketAfterOutline(t *testing.T) {
	w := &trade{jobs: []route.Job{facingLike(0)}, tool: roughTool(3.175), dialect: gcode.RS274NGC()}
	p, err := route.Plan(w.jobs, w.tool)
	require.NoError(t, err)
	first, last := -1, -1
	for i := range p.Moves {
		switch n := p.Notes[i]; {
		case n == "facing: clear pocket, 2.000 deep" && first < 0:
			first = i
		case n == "facing: rough outline" && last < 0:
			last = i
		}
	}
	require.True(t, first > 0 && last > first)
	ms := p.Moves
	// From safe height to safe height: the second pocket goes to the end.
	for ms[first].To[2] < 11 {
		first++
	}
	late := append(append(append([]gcode.Move(nil), ms[:first]...), ms[last:]...), ms[first:last]...)
	for i := 1; i < len(late); i++ {
		if late[i].From != late[i-1].To {
			late[i].From = late[i-1].To
		}
	}
	found := false
	part := w.part()
	for _, f := range proof.Hold(late, w.tool.Diameter, part).Findings {
		found = found || f.Code == proof.Loose
	}
	assert.True(t, found)
}

// Against a dense grid: what the proof calls covered is.
func TestPocketGround(t *testing.T) {
	w := &trade{jobs: []route.Job{facingLike(0)}, tool: roughTool(3.175), dialect: gcode.RS274NGC()}
	_, _, ms := w.judge(w.print(t))
	part := w.part()
	seen := 0
	atFloor := func(m *gcode.Move, z float64) bool {
		return m.Cuts() && m.From[2] == m.To[2] && math.Abs(m.To[2]-z) < 1e-6
	}
	for n, k := range part.Pockets {
		z := part.Top - k.Depth
		for from := 0; from < len(ms); from += 45 {
			// Some of the ways at the floor lifted out of the sheet: is anything left?
			spoiled := append([]gcode.Move(nil), ms...)
			box := orb.Bound{Min: orb.Point{1e9, 1e9}, Max: orb.Point{-1e9, -1e9}}
			for i := from; i < min(len(ms), from+7+from%40); i++ {
				if m := &spoiled[i]; atFloor(m, z) {
					lo, hi := m.Bound()
					box = box.Union(orb.Bound{Min: orb.Point{lo[0], lo[1]}, Max: orb.Point{hi[0], hi[1]}})
					m.From[2], m.To[2] = 6.5, 6.5
				}
			}
			if box.Max[0] < box.Min[0] {
				continue
			}
			want := 0.0
			near := movesNear(spoiled, z+2e-4, box.Pad(2*w.tool.Diameter))
			for x := box.Min[0] - 1; x < box.Max[0]+1; x += 0.5 {
				for y := box.Min[1] - 1; y < box.Max[1]+1; y += 0.5 {
					q := orb.Point{x, y}
					if part.Wall.SignedDist(q) < -0.05 && k.Floor.SignedDist(q) < -0.05 {
						want = math.Max(want, geom.Nearest(near, q).Dist-w.tool.Diameter/2)
					}
				}
			}
			told := false
			for _, f := range proof.Hold(spoiled, w.tool.Diameter, part).Findings {
				told = told || f.Code == proof.PocketLeft
			}
			if want > part.Rules.Limit {
				seen++
				assert.True(t, told, "pocket %d, moves from %d: %.4f is left and not told", n+1, from, want)
			}
		}
	}
	t.Log(seen, "programs leave something")
	assert.Positive(t, seen)
}

// movesNear are the ways at or below z that come into the box.
func movesNear(ms []gcode.Move, z float64, box orb.Bound) []geom.Path {
	var out []geom.Path
	for i := range ms {
		m := &ms[i]
		if !m.Cuts() || m.From[2] > z || m.To[2] > z || m.RPM == 0 {
			continue
		}
		a, b := orb.Point{m.From[0], m.From[1]}, orb.Point{m.To[0], m.To[1]}
		bulge := 0.0
		if m.Op != gcode.Line {
			turn := math.Atan2(b[1]-m.Centre[1], b[0]-m.Centre[0]) - math.Atan2(a[1]-m.Centre[1], a[0]-m.Centre[0])
			for m.Op == gcode.CCW && turn <= 0 {
				turn += 2 * math.Pi
			}
			for m.Op == gcode.CW && turn >= 0 {
				turn -= 2 * math.Pi
			}
			bulge = math.Tan(turn / 4)
		}
		if p, err := geom.NewPath(false, geom.B(a[0], a[1], bulge), geom.V(b[0], b[1])); err == nil && p.Bound().Intersects(box) {
			out = append(out, p)
		}
	}
	return out
}
