package joint_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// A lock is a cutter drawn at random with what is known of it by construction.
type lock struct {
	cutter *cutter.Cutter
	centre orb.Point
	wide   float64 // greatest |r - rc| of the lock
	half   float64 // least overlap: half the thickest stock
	tall   float64 // greatest |h - hc| of the lock
}

// drawLock draws a point-symmetric lock-miter cutter: from the centre up some
// edges, straight, round or shoulders, then a flank at 45° through the centre's
// diagonal; the lower half is its half turn, perhaps longer or shorter.
func drawLock(t *rapid.T) lock {
	num := func(label string, lo, hi float64) float64 {
		if rapid.Bool().Draw(t, label+" round") {
			return math.Round(rapid.Float64Range(lo, hi).Draw(t, label)*20) / 20
		}
		return rapid.Float64Range(lo, hi).Draw(t, label)
	}
	n := rapid.IntRange(1, 5).Draw(t, "edges")
	up := geom.Path{V: []geom.Vertex{geom.V(0, 0)}}
	add := func(x, y, bulge float64) {
		last := up.V[len(up.V)-1]
		e := geom.Edge{A: last.Point, B: orb.Point{x, y}, Bulge: bulge}
		if e.Length() < 0.05 {
			return
		}
		if _, falls := e.Falls(); falls || bulge != 0 && y-last.Y() < 0.05 {
			e.Bulge = 0
		}
		if n := len(up.V); n > 1 && level(up.Edge(n-2)) && level(e) { // no way back on a shoulder
			y += 0.5
		}
		up.V[len(up.V)-1].Bulge = e.Bulge
		up.V = append(up.V, geom.V(x, y))
	}
	h := 0.0
	for range n {
		if !rapid.Bool().Draw(t, "shoulder") {
			h += num("rise", 0.3, 3)
		}
		b := 0.0
		if rapid.Bool().Draw(t, "arc") {
			b = rapid.Float64Range(-1, 1).Draw(t, "bulge")
		}
		add(num("out", -7, 7), h, b)
		h = up.V[len(up.V)-1].Y()
	}
	h += num("last rise", 0.3, 2)
	add(-h, h, 0) // on the diagonal
	h = up.V[len(up.V)-1].Y()
	up.V[len(up.V)-1] = geom.V(-h, h)
	reach := up.Bound().Max[1] + num("flank", 8, 20)
	up.V = append(up.V, geom.V(-reach, reach))

	l := lock{half: reach, tall: h}
	lockDepth := 0.0 // how far the cut departs from a plain miter
	for i := range up.Edges() {
		at := up.Edge(i).At
		out := func(t float64) float64 { return math.Abs(at(t)[0]) }
		over := func(t float64) float64 { return out(t) - math.Abs(at(t)[1]) - 1e-9 }
		most := 0.0
		for k := range 2000 { // sampled, then narrowed down to where it counts
			a, b := float64(k)/2000, float64(k+1)/2000
			lockDepth = math.Max(lockDepth, math.Abs(at(b)[0]+at(b)[1]))
			most = math.Max(most, math.Max(over(a), over(b)))
			switch {
			case over(a) > 0 && over(b) > 0: // the widest point lies between by ternary search
				lo, hi := a, b
				for range 60 {
					if m, n := lo+(hi-lo)/3, hi-(hi-lo)/3; out(m) < out(n) {
						lo = m
					} else {
						hi = n
					}
				}
				l.wide = math.Max(l.wide, math.Max(out(lo), math.Max(out(a), out(b))))
			case over(a) > 0 || over(b) > 0: // the lock ends between: bisect
				in, off := a, b
				if over(b) > 0 {
					in, off = b, a
				}
				l.wide = math.Max(l.wide, out(in))
				for range 60 {
					if m := (in + off) / 2; over(m) > 0 {
						in = m
					} else {
						off = m
					}
				}
				l.wide = math.Max(l.wide, out(in))
			}
		}
		if most > 0 && most < 0.05 {
			t.Skip("a lock as thin as a flank's rounding")
		}
	}
	if lockDepth < 0.5 {
		t.Skip("a plain miter: any window of a flank closes")
	}
	down := up.Move(geom.HalfTurn(orb.Point{}))
	p := geom.Path{V: append(down.Reverse().V, up.V[1:]...)}
	p.V[len(down.V)-1].Bulge = up.V[0].Bulge
	if rapid.Bool().Draw(t, "longer") { // one end runs on: the centre stays
		q := p.V[len(p.V)-1]
		more := rapid.Float64Range(1, 5).Draw(t, "more")
		p.V[len(p.V)-1] = geom.V(q.X()-more, q.Y()+more)
	}
	l.centre = orb.Point{reach + rapid.Float64Range(3, 15).Draw(t, "hub"), reach}
	if p.End()[0]+l.centre[0] < 0 {
		l.centre[0] += 6
	}
	p = p.Move(geom.Shift(l.centre[0], l.centre[1]))
	if rapid.Bool().Draw(t, "split") {
		p = splitSome(t, p)
	}
	l.cutter = &cutter.Cutter{Handle: "drawn", Joint: "lock-miter", Known: [2]bool{true, true}, Profile: p}
	return l
}

func level(e geom.Edge) bool { return e.B[1]-e.A[1] < 1e-9 }

func splitSome(t *rapid.T, p geom.Path) geom.Path {
	out := geom.Path{}
	for i := range p.Edges() {
		e := p.Edge(i)
		if rapid.Bool().Draw(t, "split here") && e.Length() > 0.1 {
			a, b := e.Split(rapid.Float64Range(0.2, 0.8).Draw(t, "at"))
			out.V = append(out.V, geom.Vertex{Point: a.A, Bulge: a.Bulge})
			e = b
		}
		out.V = append(out.V, geom.Vertex{Point: e.A, Bulge: e.Bulge})
	}
	out.V = append(out.V, p.V[len(p.V)-1])
	return out
}

// TestUnseenCutters: the setting of cutters drawn at random closes, agrees with
// the search that knows no centre, and with what is known by construction.
func TestUnseenCutters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLock(t)
		if l.wide+1e-5 >= l.half {
			t.Skip("a lock wider than the flanks: no stock fits")
		}
		stock := rapid.Float64Range(2*l.wide+1e-5, 2*l.half).Draw(t, "stock")
		s, err := joint.Solve(joint.Request{Cutter: l.cutter, Stock: stock})
		require.NoError(t, err)
		assert.InDelta(t, l.centre[0], s.Centre[0], geom.Tol, "rc")
		assert.InDelta(t, l.centre[1], s.Centre[1], geom.Tol, "hc")
		assert.InDelta(t, 0, s.Residual, geom.Tol)
		assert.InDelta(t, 2*l.half, s.Range[1], geom.Tol)
		assert.InDelta(t, 2*l.wide, s.Range[0], geom.Tol)
		p := s.Passes[0]
		assert.InDelta(t, stock/2-l.centre[1], p.Height, geom.Tol)
		assert.InDelta(t, l.centre[0]-stock/2, p.Fence, geom.Tol)

		f := s.With(0, 0)
		assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
		assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
		if stock > 2*l.tall+0.5 { // else the board meets a part of the lock only, which may fit elsewhere too
			m := s.Minimise()
			assert.InDelta(t, p.Height, m.Height, geom.Tol, "%+v", m)
			assert.InDelta(t, p.Fence, m.Fence, geom.Tol, "%+v", m)
		}

		// closed, by chords a hundred-millionth off the arcs
		line := p.CutLine.Flatten(1e-8)
		for i := range line {
			q := orb.Point{stock - line[i][0], stock - line[i][1]}
			if i%17 == 0 {
				assert.InDelta(t, 0, p.CutLine.Nearest(q).Dist, geom.Tol)
			}
			assert.True(t, line[i][0] > -geom.Tol && line[i][0] < stock+geom.Tol, "on the stock")
		}
	})
}

// drawRising draws any profile that rises.
func drawRising(t *rapid.T) geom.Path {
	var p geom.Path
	h := 0.0
	for range rapid.IntRange(2, 9).Draw(t, "vertices") {
		p.V = append(p.V, geom.B(rapid.Float64Range(0, 40).Draw(t, "r"), h, rapid.Float64Range(-1, 1).Draw(t, "bulge")))
		if !rapid.Bool().Draw(t, "shoulder") {
			h += rapid.Float64Range(0.1, 8).Draw(t, "rise")
		}
	}
	p.V[len(p.V)-1].Bulge = 0
	for i := range p.Edges() {
		if _, falls := p.Edge(i).Falls(); falls || p.Edge(i).Length() < 1e-3 {
			p.V[i].Bulge = 0
		}
	}
	return p
}

// TestAnyProfile: whatever rises is answered or refused, with finite figures, and
// wood never runs into wood where a bearing was found.
func TestAnyProfile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(joint.Kinds()).Draw(t, "joint")
		any := func() *cutter.Cutter {
			return &cutter.Cutter{Handle: "any", Joint: kind, Profile: drawRising(t), Known: [2]bool{true, true}}
		}
		r := joint.Request{Cutter: any(), Stock: rapid.Float64Range(0.5, 40).Draw(t, "stock")}
		if kind == "drawer-lock" {
			r.Overlay = 3
		}
		if kind == "matched" {
			r.With = any()
		}
		if kind == "edge" || kind == "matched" && rapid.Bool().Draw(t, "landing") {
			num := rapid.Float64Range(-10, 30)
			r.At = landing(num.Draw(t, "r"), num.Draw(t, "h"), num.Draw(t, "x"), num.Draw(t, "z"))
		}
		s, err := joint.Solve(r)
		if err != nil {
			assert.NotContains(t, err.Error(), "%!")
			return
		}
		figures := []float64{s.Centre[0], s.Centre[1], s.Residual, s.Range[0], s.Range[1], s.Usable[0], s.Usable[1]}
		for _, e := range []joint.Error{{}, {DZ: 0.3, E: -0.2}, {DT: -0.3}} {
			f := s.Under(e)
			figures = append(figures, f.FlipTop, f.Off[0], f.Off[1], f.Flush.Normal, f.Flush.Interference, f.Nested.Normal, f.Nested.Interference)
			if f.Corner != nil {
				figures = append(figures, f.Tips[0].Short, f.Tips[1].Short, f.Corner.FaceStep, f.Corner.EndStep)
				assert.NotEmpty(t, f.Corner.Outline.V)
			}
		}
		m := s.Minimise()
		read := s.Read(0)
		for i, v := range append(figures, m.Height, m.Fence, m.Gap, read.Top) {
			assert.False(t, math.IsNaN(v) || math.IsInf(v, 0), "figure %d is %v", i, v)
		}
		for _, q := range s.Passes {
			assert.Positive(t, q.Board(100).Area())
		}
	})
}
