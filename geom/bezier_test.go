package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// at is a point of the curve by its definition, in Bernstein's polynomials.
func (b Bezier) at(u float64) orb.Point {
	n := len(b) - 1
	var x, y, w float64
	f := 1.0 // binomial
	for i, p := range b {
		k := f * math.Pow(u, float64(i)) * math.Pow(1-u, float64(n-i)) * p.W
		x, y, w = x+k*p.Point[0], y+k*p.Point[1], w+k
		f = f * float64(n-i) / float64(i+1)
	}
	return orb.Point{x / w, y / w}
}

// Dense samples of curves of every degree, weights and shape, cusps and loops among
// them, lie within the tolerance of the path, and the path within it of them.
func TestBezierArcsAreNear(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(rt, "points")
		coordinate := rapid.OneOf(rapid.Float64Range(-30, 30), rapid.Map(rapid.IntRange(-3, 3), func(i int) float64 { return 5 * float64(i) }))
		var b Bezier
		for range n {
			w := rapid.OneOf(rapid.Just(1.0), rapid.Float64Range(0.05, 8)).Draw(rt, "w")
			b = append(b, Weighted{orb.Point{coordinate.Draw(rt, "x"), coordinate.Draw(rt, "y")}, w})
		}
		tol := rapid.SampledFrom([]float64{0.1, 0.001, 1e-5}).Draw(rt, "tol")
		p, err := b.Arcs(tol)
		require.NoError(rt, err)
		require.Equal(rt, b[0].Point, p.Start())
		require.Equal(rt, b[n-1].Point, p.End())
		const samples = 3000
		line := make([]Vertex, 0, samples+1)
		ix := NewIndex(p)
		for k := range samples + 1 {
			q := b.at(float64(k) / samples)
			line = append(line, Vertex{Point: q})
			if d := ix.Nearest(q).Dist; d > tol+1e-11 {
				rt.Fatalf("the curve is %g off at %d of %d with %d edges", d, k, samples, p.Edges())
			}
		}
		if tol < 0.01 { // chords are too coarse for it
			return
		}
		curve := NewIndex(Path{V: line})
		for i := range p.Edges() {
			for f := 0.05; f < 1; f += 0.1 {
				if d := curve.Nearest(p.Edge(i).At(f)).Dist; d > tol+0.02 {
					rt.Fatalf("edge %d is %g off the curve", i, d)
				}
			}
		}
	})
}

// A circle's arc of any size as a rational curve is one arc, exactly round.
func TestBezierCircleIsOneArc(t *testing.T) {
	for _, turn := range []float64{0.3, -1, math.Pi / 2} {
		bs := EllipseArc(0.2, turn, func(q orb.Point) orb.Point { return orb.Point{3 + 7*q[0], 7 * q[1]} })
		require.Len(t, bs, 1)
		p, err := bs[0].Arcs(1e-7)
		require.NoError(t, err)
		require.Len(t, p.V, 2)
		_, r := p.Edge(0).Arc()
		assert.InDelta(t, 7, r, 1e-12)
		assert.InDelta(t, math.Tan(turn/4), p.V[0].Bulge, 1e-12)
	}
	assert.Len(t, EllipseArc(0, 2*math.Pi, func(q orb.Point) orb.Point { return q }), 4)
}

// The arcs are few: a cubic curve of a quarter ellipse within a thousandth.
func TestBezierArcsAreFew(t *testing.T) {
	b := EllipseArc(0, math.Pi/2, func(q orb.Point) orb.Point { return orb.Point{30 * q[0], 10 * q[1]} })[0]
	p, err := b.Arcs(1e-3)
	require.NoError(t, err)
	assert.LessOrEqual(t, p.Edges(), 24)
	assert.InDelta(t, math.Pi*300/4, p.areaToOrigin(), 0.01)
}

// areaToOrigin is the area between the path and lines from its ends to the origin.
func (p Path) areaToOrigin() float64 {
	q := p.Clone()
	q.V = append(q.V, V(0, 0))
	q.Closed = true
	return q.Area()
}

func TestBezierRefusals(t *testing.T) {
	for name, b := range map[string]Bezier{
		"one point":   NewBezier(orb.Point{1, 2}),
		"no weight":   {{orb.Point{0, 0}, 1}, {orb.Point{1, 0}, 0}},
		"nan":         NewBezier(orb.Point{0, 0}, orb.Point{math.NaN(), 1}),
		"too fine":    NewBezier(orb.Point{0, 0}, orb.Point{1e5, 1e5}, orb.Point{0, 1e5}),
		"not at once": NewBezier(orb.Point{0, 0}, orb.Point{math.Inf(1), 1}),
	} {
		_, err := b.Arcs(1e-6)
		assert.ErrorIs(t, err, ErrTooFine, name)
	}
	p, err := NewBezier(orb.Point{1, 1}, orb.Point{1, 1}, orb.Point{1, 1}).Arcs(1e-3)
	require.NoError(t, err, "a curve that is a point")
	assert.Len(t, p.V, 2)
}
