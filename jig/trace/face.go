package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers where a board's two faces are.

// A face is one of a board's two faces in the picture: a straight line.
type face struct {
	at, dir orb.Point // mm; dir a unit vector along which the board lies on the left
	length  float64   // mm of outline that lies on it
	offSD   float64   // standard deviation of its place in mm, of its direction in rad
	dirSD   float64
}

// leastFace is how much of a face must show, in mm. Derived here: over less, a
// direction wrong by a tenth of a pixel turns the cut by too much.
const leastFace = 5

// facesOf finds the two straight parallel stretches on which the most of the outline
// lies, with the board between them.
//
// Of two pairs that are nearly as long the one counts that lies as the user says, level
// or upright: the back and a land of a short piece are parallel too.
func facesOf(l loop, upright bool) (angle float64, ok bool) {
	const turns, bin = 720, 0.1
	best := 0.0
	for k := range turns {
		a := float64(k) * math.Pi / turns
		s, c := math.Sincos(a)
		n := orb.Point{-s, c} // left of the direction
		low, lowAt := peak(l, orb.Point{-n[0], -n[1]}, bin)
		high, highAt := peak(l, n, bin)
		m := low + high
		if off := math.Abs(c); upright && off < told || !upright && math.Abs(s) < told {
			m *= expected
		}
		if math.Min(low, high) >= leastFace && m > best && highAt+lowAt > 1 {
			best, angle = m, a
		}
	}
	return angle, best > 0
}

const (
	told     = 0.17 // the sine of mostTilt
	expected = 1.5  // by which more a pair counts that lies as told; derived here
)

// peak is the greatest length of outline that faces n and lies at one distance along
// it, and that distance.
func peak(l loop, n orb.Point, bin float64) (length, at float64) {
	count := map[int]float64{}
	for i, o := range l.out {
		if dot(o, n) > 0.9985 { // 3.1°
			count[int(math.Floor(dot(l.at[i], n)/bin))] += l.step
		}
	}
	for k, v := range count {
		v += count[k-1] + count[k+1]
		if v > length || v == length && float64(k) > at/bin {
			length, at = v, (float64(k)+0.5)*bin
		}
	}
	return length, at
}

// outermost is the greatest distance along n at which a fair length of outline faces n:
// nothing of a board lies beyond its face, but a flat cut within may be longer.
func outermost(l loop, n orb.Point, bin float64) float64 {
	count := map[int]float64{}
	for i, o := range l.out {
		if dot(o, n) > 0.9985 {
			count[int(math.Floor(dot(l.at[i], n)/bin))] += l.step
		}
	}
	best := 0.0
	near := func(k int) float64 { return count[k] + count[k-1] + count[k+1] }
	for k := range count {
		best = math.Max(best, near(k))
	}
	far, found := 0, false
	for k := range count {
		if v := near(k); v >= math.Max(0.6*leastFace, 0.25*best) && (!found || k > far) {
			far, found = k, true
		}
	}
	// the middle of that stretch
	for near(far-1) > near(far) {
		far--
	}
	return (float64(far) + 0.5) * bin
}

// fitFaces fits the two faces.
func (b *board) fitFaces(picture orb.Bound) *Refusal {
	smooth := newLoop(b.line, 0.1, 0.8)
	for range 3 {
		s, c := math.Sincos(b.angle)
		dir, n := orb.Point{c, s}, orb.Point{-s, c}
		var lines [2]face
		for side := range 2 {
			out := orb.Point{-n[0], -n[1]}
			if side == 1 {
				out = n
			}
			at := outermost(smooth, out, 0.1)
			fit, ok := robustLine(b.line, dir, out, at)
			if !ok {
				return refuse(NoBoard, "the end of a board, at least 5 mm of both faces: leave the piece longer, and state the pixels an inch that it was scanned with", "no two straight parallel faces")
			}
			if side == 1 {
				fit.dir = orb.Point{-fit.dir[0], -fit.dir[1]}
			}
			lines[side] = fit
		}
		b.down, b.up = lines[0], lines[1]
		u := orb.Point{-b.up.dir[0], -b.up.dir[1]}
		apart := math.Atan2(cross(b.down.dir, u), dot(b.down.dir, u))
		if math.Abs(apart) > 0.012+3*math.Hypot(b.down.dirSD, b.up.dirSD) {
			return refuse(Askew, "parallel faces: a flatbed scan, or a photo taken square-on", "the board's faces are out of parallel by %.1f°", math.Abs(apart)*180/math.Pi)
		}
		// The direction both have, each weighed by how well it is known; the faces
		// of a planed board are parallel.
		turn := 0.0
		if sd := math.Hypot(b.down.dirSD, b.up.dirSD); math.Abs(apart) < 3*sd+1e-4 {
			w0, w1 := 1/(b.down.dirSD*b.down.dirSD), 1/(b.up.dirSD*b.up.dirSD)
			turn = apart * w1 / (w0 + w1)
		}
		b.angle = math.Atan2(b.down.dir[1], b.down.dir[0]) + turn
	}
	s, c := math.Sincos(b.angle)
	n := orb.Point{-s, c}
	b.thick = dot(sub(b.up.at, b.down.at), n)
	if b.thick < 1 {
		return refuse(NoBoard, "the end of a board, at least 5 mm of both faces: leave the piece longer, and state the pixels an inch that it was scanned with", "no two straight parallel faces")
	}
	near := 3*b.r.pitch() + 0.1
	for _, f := range [2]face{b.down, b.up} {
		if p := f.at; p[0] < picture.Min[0]+near || p[1] < picture.Min[1]+near || p[0] > picture.Max[0]-near || p[1] > picture.Max[1]-near {
			return refuse(Clipped, "both faces and the cut, with some background round them: move the piece inward on the glass", "a face of the board is clipped: it runs along the picture's rim")
		}
	}
	return nil
}

// robustLine fits a line to the points that lie near the distance at along out and
// whose neighbours run along dir, with what departs left out.
func robustLine(q []orb.Point, dir, out orb.Point, at float64) (face, bool) {
	var use []orb.Point
	for i, p := range q {
		if math.Abs(dot(p, out)-at) > 0.8 {
			continue
		}
		d := sub(q[(i+4)%len(q)], q[(i-4+4*len(q))%len(q)])
		if h := math.Hypot(d[0], d[1]); h > 0 && math.Abs(dot(d, dir)) > 0.985*h {
			use = append(use, p)
		}
	}
	if len(use) < 20 {
		return face{}, false
	}
	var mid orb.Point
	for _, p := range use {
		mid[0], mid[1] = mid[0]+p[0]/float64(len(use)), mid[1]+p[1]/float64(len(use))
	}
	a, k := 0.0, 0.0 // offset and slope along out
	es := make([]float64, len(use))
	med := make([]float64, len(use))
	for i, p := range use {
		med[i] = dot(sub(p, mid), out)
	}
	a = median(med)
	cut := 0.4
	var sd, offSD, dirSD float64
	for range 12 {
		m := newNormal(2)
		n := 0
		for i, p := range use {
			d := sub(p, mid)
			s := dot(d, dir)
			es[i] = dot(d, out) - a - k*s
			if e := es[i] / cut; math.Abs(e) < 1 {
				w := (1 - e*e) * (1 - e*e)
				m.add([]float64{1, s}, dot(d, out), w)
				n++
			}
		}
		p, inv, ok := m.solve()
		if !ok || n < 20 {
			return face{}, false
		}
		a, k = p[0], p[1]
		abs := make([]float64, 0, len(es))
		var kept []float64
		for _, e := range es {
			if math.Abs(e) < cut {
				abs = append(abs, math.Abs(e))
				kept = append(kept, e)
			}
		}
		sd = 1.4826*median(abs) + 1e-5
		cut = math.Max(5*sd, 0.01)
		tau := correlation(kept)
		offSD, dirSD = sd*math.Sqrt(inv[0]*tau), sd*math.Sqrt(inv[3]*tau)
	}
	f := face{at: along(mid, out, a), offSD: offSD, dirSD: math.Max(dirSD, 1e-6)}
	d := orb.Point{dir[0] + k*out[0], dir[1] + k*out[1]}
	h := math.Hypot(d[0], d[1])
	f.dir = orb.Point{d[0] / h, d[1] / h}
	f.length = float64(len(use)) * dist(q[0], q[1])
	return f, true
}

// correlation is over how many neighbours residuals in their order depend on one
// another: 1 plus twice the sum of their autocorrelations as long as these are
// positive (the integrated autocorrelation time).
func correlation(e []float64) float64 {
	n := len(e)
	if n < 8 {
		return 1
	}
	v := 0.0
	for _, x := range e {
		v += x * x
	}
	if v == 0 {
		return 1
	}
	t := 1.0
	for lag := 1; lag < n/4 && lag < 200; lag++ {
		c := 0.0
		for i := lag; i < n; i++ {
			c += e[i] * e[i-lag]
		}
		if c /= v; c < 0.05 {
			break
		} else {
			t += 2 * c
		}
	}
	return t
}
