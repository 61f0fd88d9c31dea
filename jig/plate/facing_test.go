package plate

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

func facingOf(t require.TestingT, p joint.Pass, thick float64) ([][]Plate, FacingFigures) {
	ds, f, err := Facings(FacingRequest{Pass: p, Table: shop.Table{InsertOpening: 98, FenceWidth: 120, FenceHeight: 60}, Thick: thick, Mark: "RIDGE LOCK 45\nT 19 MM"})
	require.NoError(t, err)
	return ds, f
}

// sweptAt is half the width that the cutter sweeps at the height z and the depth y
// behind the face, from the radius itself; 0 where it sweeps nothing.
func sweptAt(p joint.Pass, y, z float64) float64 {
	r := math.Inf(-1)
	for _, c := range []geom.Path{p.Profile(), p.Body()} {
		if x, ok := c.XAt(z); ok {
			r = math.Max(r, x+p.Fence)
		}
	}
	if d := p.Fence - y; r > math.Abs(d) {
		return math.Sqrt(r*r - d*d)
	}
	return 0
}

// sweptPath is the true silhouette as a dense closed polyline, above z = low.
func sweptPoints(p joint.Pass, y, low float64, n int) []orb.Point {
	hi := p.Profile().End()[1]
	if b := p.Body(); len(b.V) > 1 {
		hi = math.Max(hi, b.End()[1])
	}
	var out []orb.Point
	for k := 0; k <= n; k++ {
		z := low + (hi-low)*float64(k)/float64(n)
		if w := sweptAt(p, y, z); w > 0 {
			out = append(out, orb.Point{w, z}, orb.Point{-w, z})
		}
	}
	return out
}

// The silhouette is fitted within 0.003 mm by few pieces.
func TestSilhouetteIsFitted(t *testing.T) {
	pass := solve(t, worked(t), 19)
	for _, d := range []float64{0, 0.3, 3.5, 7.5, 9.5, 13.9, 25.4} {
		s := silhouette(pass, d)
		require.NoError(t, s.Check())
		edges := 0
		for _, p := range s {
			edges += p.Edges()
		}
		assert.Less(t, edges, 90, "d %g", d)
		y := pass.Fence - d
		for _, q := range sweptPoints(pass, y, pass.Height, 5000) {
			assert.LessOrEqual(t, s.SignedDist(q), fitted, "d %g: %v stands out", d, q)
		}
		// And the other way: no boundary point strays from the true one, taken as the
		// profile's own points, many to an edge and more where an edge ends.
		var chains []geom.Path
		profile := pass.Profile()
		for i := range profile.Edges() {
			for _, e := range splitAt(profile.Edge(i), 0, d-pass.Fence) {
				var v []geom.Vertex
				for k := 0; k <= 1500; k++ {
					q := e.At((1 - math.Cos(math.Pi*float64(k)/1500)) / 2)
					if r := q[0] + pass.Fence; r >= d {
						v = append(v, geom.V(math.Sqrt(r*r-d*d), q[1]))
					}
				}
				if c, err := geom.NewPath(false, v...); err == nil && len(v) > 1 {
					chains = append(chains, c)
				}
			}
		}
		index := geom.NewIndex(chains...)
		for _, p := range s {
			for i := range p.Edges() {
				for k := range 10 {
					q := p.Edge(i).At(float64(k) / 10)
					if top := profile.End()[1]; q[1] > pass.Height+1e-9 && q[1] < top-1e-9 && q[0] > 0 {
						assert.LessOrEqual(t, index.Nearest(q).Dist, fitted+1e-5, "d %g: %v is not on it", d, q)
					}
				}
			}
		}
	}
}

// requireClear holds what is left of a facing against the cutter at every depth,
// from the radius itself, and against one that stands farther back.
func requireClear(t require.TestingT, c Cut, p joint.Pass, f FacingFigures) {
	upper := c.Wall
	for _, k := range c.Floors {
		upper = geom.Difference(upper, k.Floor)
	}
	wall, up := geom.NewIndex(c.Wall...), geom.NewIndex(upper...)
	for _, out := range []float64{0, 1, 4, 20} { // the plate farther out by so much
		for k := 0; k <= 12; k++ {
			y := f.Thick * float64(k) / 12
			x := up
			if y <= f.Lip {
				x = wall
			}
			for _, q := range sweptPoints(p, y-out, 0, 700) {
				require.LessOrEqual(t, x.Winding(q), 0, "%v at depth %g", q, y)
				require.Greater(t, x.Nearest(q).Dist, f.Clear-1e-4, "%v at depth %g", q, y)
			}
		}
	}
}

func TestFacingStandsClear(t *testing.T) {
	for _, stock := range []float64{13, 19, 25.4, 30} {
		pass := solve(t, worked(t), stock)
		for _, thick := range []float64{2.2, 6, 9, 18} {
			ds, f := facingOf(t, pass, thick)
			cuts, err := FitAll(ds, []float64{6, 3.175, 2})
			require.NoError(t, err)
			c := cuts[0]
			t.Logf("stock %g, sheet %g: mill %g, lip %g, gap %.3f, %d + %d edges", stock, thick, c.Mill, f.Lip, f.Gap, c.Outline[0].Edges(), len(c.Floors))
			requireClear(t, c, pass, f)
			assert.Equal(t, pass.Fence-thick, f.Fence)
			if thick > 2.5 {
				require.Len(t, c.Floors, 1)
				assert.InDelta(t, thick-2, c.Floors[0].Depth, 1e-12)
				assert.InDelta(t, 2, f.Lip, 1e-12)
			} else {
				assert.Empty(t, c.Floors)
			}
			assert.Len(t, c.Kept, 2, "it stands on both sides of the opening")
			// All of wall and floor can be milled.
			grown, err := c.Wall.Offset(c.Mill / 2)
			require.NoError(t, err)
			back, err := grown.Offset(-c.Mill / 2)
			require.NoError(t, err)
			assert.InDelta(t, c.Wall.Area(), back.Area(), 1e-4)
		}
	}
}

// The opening follows the silhouette: within 0.01 mm of it and the clearance, but
// for what the mill takes at corners.
func TestFacingFollowsTheCutter(t *testing.T) {
	pass := solve(t, worked(t), 19)
	ds, f := facingOf(t, pass, 6)
	p := ds[0][0]
	pts := sweptPoints(pass, f.Lip, -6, 60000)
	var chain []geom.Vertex
	for _, q := range pts {
		if q[0] > 0 {
			chain = append(chain, geom.V(q[0], q[1]))
		}
	}
	true_, err := geom.NewPath(false, chain...)
	require.NoError(t, err)
	index := geom.NewIndex(true_)
	n := 0
	for _, e := range p.Bare {
		for k := range 20 {
			q := e.Edge(0).At(float64(k) / 20)
			if q[0] <= 0 {
				continue
			}
			n++
			d := index.Nearest(q).Dist
			assert.GreaterOrEqual(t, d, facingClear, "%v", q)
			assert.LessOrEqual(t, d, facingClear+0.01, "%v", q)
		}
	}
	assert.Greater(t, n, 100)
	assert.Less(t, len(p.Bare), 60)
	t.Log(len(p.Bare), "pieces")
}

func TestFacingRefuses(t *testing.T) {
	pass := solve(t, worked(t), 19)
	c := *pass.Cutter
	c.Known[0] = false
	pass.Cutter = &c
	_, _, err := Facings(FacingRequest{Pass: pass, Table: shop.Table{FenceWidth: 120}, Thick: 6})
	require.ErrorContains(t, err, "radius of cutter worked is not known")
	ds, _ := facingOf(t, solve(t, worked(t), 19), 6)
	_, err = FitAll(ds, []float64{40})
	var big *TooBig
	require.ErrorAs(t, err, &big)
	assert.Greater(t, big.Largest, 5.0)
}
