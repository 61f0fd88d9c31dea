//go:build outside

package joint_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/testdata/outside"
)

// A pairBoard is a board as GEOS is to cut it.
type pairBoard struct {
	Profile [][3]float64 `json:"profile"`
	Height  float64      `json:"height"`
	Fence   float64      `json:"fence"`
	Stock   float64      `json:"stock"`
	Upright bool         `json:"upright"`
}

// A pairCase is two boards, the motions (a, b, d, e, x, y) that lay the second
// against the first, nested and flush, and the boxes that the closed joint fills.
type pairCase struct {
	Boards  [2]pairBoard `json:"boards"`
	Motions [][6]float64 `json:"motions"`
	Closed  [][4]float64 `json:"closed"`
	Ends    bool         `json:"ends"`

	effect joint.Effect
	place  [2]float64 // expected left and top of the second board, nested
	right  bool       // closes without gap
	clear  float64
}

type pairFigures struct {
	More, Less float64
	Joints     []struct {
		Overlap float64
		Void    *float64
		Bounds  [4]float64
		Between *[2]float64
	}
}

const longBoard = 200 // mm, as the script cuts them

func boardFor(p joint.Pass, dz, e float64) pairBoard {
	b := pairBoard{Height: p.Height + dz, Fence: p.Fence - e, Stock: p.Stock, Upright: p.Lies == joint.Upright}
	for _, v := range p.Cutter.Profile.V {
		b.Profile = append(b.Profile, [3]float64{v.X(), v.Y(), v.Bulge})
	}
	return b
}

func halfTurn(x, z float64) [6]float64 { return [6]float64{-1, 0, 0, -1, x, z} }

// drawBulge draws a bulge that is one: GEOS's overlays do without edges that all but
// meet.
func drawBulge(t *rapid.T, most float64) float64 {
	b := rapid.Float64Range(0.02, most).Draw(t, "bulge")
	if rapid.Bool().Draw(t, "hollow") {
		return -b
	}
	return b
}

// drawGlue draws an edge-glue cutter about a centre, with lines and arcs.
func drawGlue(t *rapid.T) (*cutter.Cutter, orb.Point, float64) {
	up := geom.Path{V: []geom.Vertex{geom.V(0, 0)}}
	h, side := 0.0, 1.0
	for range rapid.IntRange(1, 3).Draw(t, "fingers") {
		x := side * rapid.Float64Range(2, 6).Draw(t, "out")
		h += rapid.Float64Range(0.3, 2).Draw(t, "lean")
		if rapid.Bool().Draw(t, "arc") {
			up.V[len(up.V)-1].Bulge = drawBulge(t, 0.2)
			if _, falls := (geom.Edge{A: up.V[len(up.V)-1].Point, B: orb.Point{x, h}, Bulge: up.V[len(up.V)-1].Bulge}).Falls(); falls {
				up.V[len(up.V)-1].Bulge = 0
			}
		}
		up.V = append(up.V, geom.V(x, h))
		h += rapid.Float64Range(1, 4).Draw(t, "land")
		up.V = append(up.V, geom.V(x, h))
		side = -side
	}
	h += 1
	up.V = append(up.V, geom.V(0, h))
	h += rapid.Float64Range(1, 6).Draw(t, "flat")
	up.V = append(up.V, geom.V(0, h))
	down := up.Move(geom.HalfTurn(orb.Point{})).Reverse()
	p := geom.Path{V: append(down.V, up.V[1:]...)}
	p.V[len(down.V)-1].Bulge = up.V[0].Bulge
	c := orb.Point{rapid.Float64Range(12, 25).Draw(t, "hub"), h}
	return &cutter.Cutter{Handle: "glue", Joint: "edge-glue", Known: [2]bool{true, true}, Profile: p.Move(geom.Shift(c[0], c[1]))}, c, h
}

// drawDrawer draws a drawer lock about a centre: a plain land, a line, a bend of two
// arcs or a shoulder, a tooth.
func drawDrawer(t *rapid.T) (c *cutter.Cutter, plain, tooth float64, centre orb.Point) {
	plain = rapid.Float64Range(12, 22).Draw(t, "plain")
	tooth = plain + rapid.Float64Range(3, 8).Draw(t, "tooth")
	land := rapid.Float64Range(5, 9).Draw(t, "land")
	rise := rapid.SampledFrom([]float64{0, 0.5, 2, 3}).Draw(t, "rise")
	high := rapid.Float64Range(3, land-0.5).Draw(t, "high") // the land reaches below the table, errors included
	centre = orb.Point{(plain + tooth) / 2, land + rise/2}
	v := []geom.Vertex{geom.V(plain, 0), geom.V(plain, land)}
	if rise > 1 && rapid.Bool().Draw(t, "bend") {
		b := drawBulge(t, 0.15)
		v[1].Bulge = b
		v = append(v, geom.B(centre[0], centre[1], -b))
		p := geom.Path{V: append(append([]geom.Vertex(nil), v...), geom.V(tooth, land+rise))}
		for i := range p.Edges() {
			if _, falls := p.Edge(i).Falls(); falls {
				v = v[:2]
				v[1].Bulge = 0
				break
			}
		}
	}
	v = append(v, geom.V(tooth, land+rise), geom.V(tooth, land+rise+high))
	return &cutter.Cutter{Handle: "drawer", Joint: "drawer-lock", Known: [2]bool{true, true}, Profile: geom.Path{V: v}}, plain, tooth, centre
}

// TestOutsidePairs lets GEOS cut and lay together the boards of drawer locks, glue
// joints and matched sets drawn at random, with lines and arcs, in round mm and round
// inches, at the right setting and at wrong ones. How the boards are laid together
// follows from how the cutters were drawn, not from what was solved.
func TestOutsidePairs(t *testing.T) {
	var cases []pairCase
	counts := map[string]int{}
	add := func(t *rapid.T, s *joint.Setting, err joint.Error, nested func(dz, e float64) [6]float64, flush [6]float64, place [2]float64, closed [][4]float64, ends bool, clear float64) {
		k := pairCase{Ends: ends, Closed: closed, effect: s.Under(err), right: err == joint.Error{}, clear: clear}
		dz, e := err.DZ, err.E
		first := [2]float64{dz, e}
		if s.Joint == "matched" {
			first = [2]float64{}
		}
		k.Boards = [2]pairBoard{boardFor(s.Passes[0], first[0], first[1]), boardFor(s.Passes[1], dz, e)}
		k.Motions = [][6]float64{nested(dz, e), flush}
		k.place = [2]float64{place[0] + k.effect.Off[0], place[1] + k.effect.Off[1]}
		cases = append(cases, k)
		counts[s.Joint]++
	}
	errs := []joint.Error{{DZ: 0.2}, {DZ: -0.15}, {E: 0.1}, {E: -0.2}, {DZ: 0.1, E: -0.1}}
	rapid.Check(t, func(rt *rapid.T) {
		if len(cases) >= 100 {
			return // enough
		}
		both := []joint.Error{{}, rapid.SampledFrom(errs).Draw(rt, "error")}
		switch rapid.IntRange(0, 2).Draw(rt, "kind") {
		case 0:
			c, rc, half := drawGlue(rt)
			stock := rapid.Float64Range(half, 2*half).Draw(rt, "stock")
			s, err := joint.Solve(joint.Request{Cutter: c, Stock: stock, Skim: 0.7})
			require.NoError(rt, err)
			h, d := stock/2-rc[1], s.Passes[0].Fence
			for _, e := range both {
				add(rt, s, e, func(dz, e float64) [6]float64 { return halfTurn(2*(rc[0]-d+e), 2*(h+dz+rc[1])) },
					halfTurn(2*(rc[0]-d+e.E), stock), [2]float64{0, stock}, [][4]float64{{-100, 0, 100, stock}}, false, 0)
			}
		case 1:
			c, plain, tooth, rc := drawDrawer(rt)
			side := tooth - plain + rapid.Float64Range(1, 12).Draw(rt, "side")
			_, top := c.Bottom(), c.Top()
			depth := 2 * (top - rc[1])
			front := depth + rapid.Float64Range(0.5, 10).Draw(rt, "lip")
			o := rapid.SampledFrom([]float64{0, 3, 9.525}).Draw(rt, "overlay")
			s, err := joint.Solve(joint.Request{Cutter: c, Stock: front, Other: side, Overlay: o})
			require.NoError(rt, err)
			h, df, ds := top-2*rc[1], tooth-side-o, plain
			for _, e := range both {
				add(rt, s, e, func(dz, e float64) [6]float64 { return halfTurn(2*rc[0]-df-ds+2*e, 2*(h+dz+rc[1])) },
					halfTurn(side+o, depth), [2]float64{o, depth},
					[][4]float64{{o, -100, o + side, depth}, {o, 0, 100, depth}, {0, depth, 100, front}}, true, 0)
			}
		case 2:
			w := drawSet(rt)
			stock := rapid.Float64Range(12, 2*w.half).Draw(rt, "stock")
			skim := rapid.SampledFrom([]float64{0, 0.6}).Draw(rt, "skim")
			s, err := joint.Solve(joint.Request{Cutter: w.first, With: w.second, Stock: stock, Skim: skim})
			require.NoError(rt, err)
			x := w.sum - s.Passes[0].Fence - s.Passes[1].Fence
			for _, e := range both {
				add(rt, s, e, func(dz, e float64) [6]float64 { return [6]float64{-1, 0, 0, 1, x + e, -dz} },
					[6]float64{-1, 0, 0, 1, x + e.E, 0}, [2]float64{0, stock}, [][4]float64{{-100, 0, 100, stock}}, false, w.clear)
			}
		}
	})
	in, err := json.Marshal(cases)
	require.NoError(t, err)
	var have []pairFigures
	require.NoError(t, json.Unmarshal(outside.Python(t, "pairs.py", in), &have))
	require.Len(t, have, len(cases))
	for i, g := range have {
		k := cases[i]
		f := k.effect
		nested, flush := g.Joints[0], g.Joints[1]
		ok := true
		if k.right {
			ok = assert.InDelta(t, 0, flush.Overlap, 1e-6, "overlap") && assert.InDelta(t, 0, nested.Overlap, 1e-6)
			if k.clear < 1e-9 {
				ok = ok && assert.InDelta(t, 0, *flush.Void, 1e-6, "void")
			} else {
				ok = ok && assert.Less(t, *flush.Void, 12*k.clear, "no more than the groove's bottom stays open")
			}
		}
		if k.Ends { // a drawer lock: the side's outer face
			ok = ok && assert.InDelta(t, k.place[0], nested.Bounds[0], 1e-6, "outer face")
		}
		if math.Abs(f.Error.E) < 1e-9 || !k.Ends { // else the lip may have moved under the side's end
			ok = ok && assert.InDelta(t, k.place[1], nested.Bounds[3], 1e-6, "top")
		}
		for j, want := range []joint.Gap{f.Nested, f.Flush} {
			if b := g.Joints[j].Between; b != nil {
				ok = ok && assert.InDelta(t, want.Normal, b[0], 2e-3, "gap %d", j) && assert.InDelta(t, want.Interference, b[1], 2e-3, "clash %d", j)
			}
		}
		if !ok {
			msg, _ := json.Marshal(k)
			t.Fatalf("case %d, error %+v: %s\nhave %+v\nwant %+v %+v", i, f.Error, msg, g, f.Nested, f.Flush)
		}
	}
	t.Logf("joints cut by GEOS: %v", counts)
}

// TestOutsideEdges holds the plain edges of the example cutters at wrong settings
// against the right ones: a gap is where more wood went, interference where less did.
func TestOutsideEdges(t *testing.T) {
	var cases []pairCase
	for _, e := range []struct {
		cutter string
		at     *joint.Landing
	}{
		{"round-over", landing(6.35, 6, 0, 6)}, {"chamfer", landing(12.7, 6.35, 3, 3)},
		{"cove", landing(14, 1, 8, 1)}, {"rebate", landing(16, 12, 9, 11)},
	} {
		s := solve(t, joint.Request{Cutter: invented(t, e.cutter), Stock: 19, At: e.at})
		for _, w := range []joint.Error{{}, {E: 0.2}, {E: -0.2}, {DZ: -0.1}, {DZ: 0.1, E: 0.1}} {
			p := s.Passes[0]
			k := pairCase{effect: s.Under(w), right: w == joint.Error{}}
			k.Boards = [2]pairBoard{boardFor(p, w.DZ, w.E), boardFor(p, 0, 0)}
			cases = append(cases, k)
		}
	}
	in, err := json.Marshal(cases)
	require.NoError(t, err)
	var have []pairFigures
	require.NoError(t, json.Unmarshal(outside.Python(t, "pairs.py", in), &have))
	for i, g := range have {
		f := cases[i].effect
		assert.Equal(t, f.Flush.Normal > 1e-6, g.More > 1e-6, "case %d: %+v %+v", i, f, g)
		assert.Equal(t, f.Flush.Interference > 1e-6, g.Less > 1e-6, "case %d: %+v %+v", i, f, g)
		// An area is no more than the greatest depth along the whole edge.
		assert.LessOrEqual(t, g.More, f.Flush.Normal*(longBoard/4))
		assert.LessOrEqual(t, g.Less, f.Flush.Interference*(longBoard/4)+1e-9)
	}
}
