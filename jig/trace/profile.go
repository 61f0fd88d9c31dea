package trace

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// This file answers which lines and arcs make the profile.

// A profile is the lines and arcs fitted to one or more cuts.
type profile struct {
	cuts    []*cut
	pieces  []*piece
	thick   float64 // mm, of the cuts the greatest
	path    geom.Path
	pitch   float64 // mm, of a pixel
	blur    float64 // mm
	noise   float64 // mm, of one point
	tau     float64 // points that go together
	wave    float64 // mm, by which the outline departs from lines a millimetre long
	bridged int     // places where something was left out
	carried float64 // mm by which a chipped tip was carried on
}

// smallest is the length in mm under which what stands out of a straight line, or is
// missing from it, is dirt or a chip and no part of the profile. Derived here: a
// router cutter has no such teeth.
const smallest = 0.8

// fitProfile fits the profile to the first cut, then to all of them together.
func fitProfile(cuts []*cut) (*profile, *Refusal) {
	c := cuts[0]
	f := &profile{cuts: cuts, pitch: c.b.r.pitch(), blur: c.b.blur}
	for _, k := range cuts {
		f.thick = math.Max(f.thick, k.thick)
	}
	if why := f.first(c); why != nil {
		return nil, why
	}
	if err := f.assemble(c.thick); err != nil {
		return nil, err
	}
	if len(cuts) > 1 {
		if why := f.register(); why != nil {
			return nil, why
		}
	}
	for range 2 {
		f.refine()
		f.merge()
		f.clear()
		f.sharpen()
		if err := f.assemble(f.thick); err != nil {
			return nil, err
		}
	}
	f.refine()
	if why := f.assemble(f.thick); why != nil {
		return nil, why
	}
	if why := f.confirm(); why != nil {
		return nil, why
	}
	return f, nil
}

// confirm holds the profile against the outline as it was first found: where that
// departs over more than dirt or a chip is long, the profile is not stated at all.
func (f *profile) confirm() *Refusal {
	x := geom.NewIndex(f.path)
	limit := math.Max(0.06, math.Max(3*f.pitch, 6*f.noise))
	for _, c := range f.cuts {
		q := c.between(math.Max(0.1, 3*f.blur))
		run := 0.0
		for i := 1; i < len(q); i++ {
			if x.Nearest(q[i]).Dist < limit {
				run = 0
				continue
			}
			// near a face a chip may be larger
			most := smallest
			if z := q[i][1]; z < chipped || z > c.thick-chipped {
				most = 2 * chipped
			}
			if run += dist(q[i-1], q[i]); run > most {
				return refuse(Unclear, "a cleaner scan or a cleaner cut",
					"no profile of lines and arcs fits the cut near x %.2f mm, z %.2f mm", q[i][0], q[i][1])
			}
		}
	}
	return nil
}

// first divides the points of one cut in pieces.
func (f *profile) first(c *cut) *Refusal {
	g := math.Max(0.1, 3*f.blur)
	q := c.between(g)
	if len(q) < 24 {
		return refuse(Unclear, "a cut that runs from face to face", "the cut's outline has %d points", len(q))
	}
	q = despike(q)
	f.wave = waviness(q, 0.6)
	fit, err := geom.FitPath(q)
	if err != nil {
		return refuse(Unclear, "a cut that runs from face to face", "the cut's outline cannot be fitted: %v", err)
	}
	n := len(fit.First)
	if n > 400 {
		return refuse(Unclear, "a clean cut in sharp focus", "the cut's outline is too ragged: %d pieces", n)
	}
	floor := f.pitch / 20
	for k := range n {
		end := len(q)
		if k+1 < n {
			end = fit.First[k+1]
		}
		e := geom.Edge{}
		if k < fit.Path.Edges() {
			e = fit.Path.Edge(k)
		}
		p, ok := fitPiece(q[fit.First[k]:end], !e.Straight(), floor)
		if !ok {
			p, ok = fitPiece(q[fit.First[k]:end], false, floor)
		}
		if ok {
			f.pieces = append(f.pieces, p)
		}
	}
	if len(f.pieces) == 0 {
		return refuse(Unclear, "a cut that runs from face to face", "nothing could be fitted to the cut's outline")
	}
	f.pool()
	f.merge()
	f.clear()
	f.sharpen()
	return nil
}

// despike leaves out points that jump away from both neighbours a few places off.
func despike(q []orb.Point) []orb.Point {
	var out []orb.Point
	for i, p := range q {
		if n := len(out); n > 0 && dist(p, out[n-1]) < 1e-6 {
			continue
		}
		if i >= 3 && i+3 < len(q) {
			a, b := q[i-3], q[i+3]
			if l := dist(a, b); dist(a, p)+dist(p, b) > 2*l+0.3 {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// waviness is the standard deviation of the points from lines over the length given
// either way; the median passes over corners.
func waviness(q []orb.Point, half float64) float64 {
	var out []float64
	for i := 0; i < len(q); i += 4 {
		a, b := i, i
		for a > 0 && dist(q[a], q[i]) < half {
			a--
		}
		for b+1 < len(q) && dist(q[b], q[i]) < half {
			b++
		}
		if b-a < 6 {
			continue
		}
		if l, err := geom.FitLine(q[a : b+1]); err == nil {
			out = append(out, l.RMS)
		}
	}
	return quantile(out, 0.4)
}

// together is the length in mm over which errors of the outline are believed to go
// together at least: grain, roughness and the scanner's sharpness reach about so far.
// Derived here.
const together = 0.25

// pool finds the noise common to all pieces.
func (f *profile) pool() {
	var sds, taus []float64
	for _, p := range f.pieces {
		step := p.span() / math.Max(float64(len(p.q)/len(f.cuts)-1), 1)
		tau := math.Max(p.tau, together/math.Max(step, f.pitch/2))
		for range max(1, len(p.q)/8) {
			sds, taus = append(sds, p.sd), append(taus, tau)
		}
	}
	f.noise = math.Max(math.Max(median(sds), f.wave), f.pitch/20)
	f.tau = math.Max(median(taus), 1)
}

// refine measures the outline anew along each piece, square to it, in all cuts, and
// fits the piece to that.
func (f *profile) refine() {
	inset := 2.5*f.blur + 1.5*f.pitch
	for i, p := range f.pieces {
		q := f.along(p, inset)
		n, ok := fitPiece(q, p.round, f.pitch/20)
		if !ok || p.round && (n.turn != p.turn || n.falls()) || p.astray(n, 0.1+3*f.noise) && p.sd < 3*f.noise {
			continue // too short, or led astray: what was found first stays
		}
		n.a, n.b = p.a, p.b
		f.pieces[i] = n
	}
	f.pool()
}

// along measures the outline at every pixel of the piece's length but its ends.
func (f *profile) along(p *piece, inset float64) []orb.Point {
	e := p.edge()
	l := e.Length()
	var q []orb.Point
	if l < 2*inset+6*f.pitch {
		return nil // too short to be clear of its corners
	}
	for _, c := range f.cuts {
		step := c.b.r.pitch()
		n := int((l - 2*inset) / step)
		for k := 0; k <= n; k++ {
			at := e.At((inset + float64(k)*step) / l)
			if at[1] < inset || at[1] > c.thick-inset {
				continue
			}
			if x, ok := c.measure(at, p.left(at)); ok {
				q = append(q, x)
			}
		}
	}
	return q
}

// merge joins neighbours and makes arcs lines as long as the points allow it: as long
// as the squared distances, over the variance of independent points, grow by less
// than the logarithm of the number of independent points for each figure saved (G.
// Schwarz, Annals of Statistics 6 (1978) 461-464), or the pieces move by less than a
// fifth of a pixel. Between two pieces of one line or arc, what is shorter than
// [smallest] is left out as dirt or a chip.
func (f *profile) merge() {
	type key struct {
		p, o  *piece
		round bool
	}
	known := map[key]*piece{}
	floor := f.pitch / 20
	const cut = 0.1 // mm: what is farther off counts no more, it is dirt
	for len(f.pieces) > 0 {
		f.pool()
		n := 0
		for _, p := range f.pieces {
			n += len(p.q)
		}
		v := f.noise * f.noise * f.tau
		gain := math.Log(math.Max(float64(n)/f.tau, 3))
		bestGain, at, upto := 0.0, -1, -1
		var best *piece
		try := func(i, j int, round bool, was float64, params int) {
			a, b := f.pieces[i], f.pieces[j]
			k := key{a, b, round}
			p, tried := known[k]
			if !tried {
				q := a.q
				if i != j {
					q = append(append([]orb.Point{}, a.q...), b.q...)
				}
				if fit, ok := fitPiece(q, round, floor); ok && !fit.falls() {
					p = fit
				}
				known[k] = p
			}
			if p == nil {
				return
			}
			more := p.cost(cut) - was
			saved := float64(params-p.params()) * gain
			g := saved - more/v
			if more < 0.03*f.pitch*f.pitch*float64(len(p.q)) && p.steady(0.25*f.pitch) {
				g = math.Max(g, saved/2) // moved by less than a fifth of a pixel
			}
			if g > bestGain {
				bestGain, at, upto, best = g, i, j, p
			}
		}
		for i, p := range f.pieces {
			if p.round {
				try(i, i, false, p.cost(cut), 3)
			}
			gap := 0.0
			params := p.params()
			for j := i + 1; j < len(f.pieces) && j <= i+5; j++ {
				o := f.pieces[j]
				params += o.params() + 1
				if j == i+1 || gap < math.Min(p.span(), o.span()) {
					was := p.cost(cut) + o.cost(cut)
					try(i, j, false, was, params)
					if p.round || o.round {
						try(i, j, true, was, params)
					}
				}
				if gap += dist(o.q[0], o.q[len(o.q)-1]); gap > smallest {
					break
				}
			}
		}
		if at < 0 {
			return
		}
		for _, p := range f.pieces[at+1 : max(upto, at+1)] {
			if p.astray(best, 0.02+2*f.pitch) {
				f.bridged++
				break
			}
		}
		best.a, best.b = f.pieces[at].a, f.pieces[upto].b
		f.pieces = append(f.pieces[:at:at], append([]*piece{best}, f.pieces[upto+1:]...)...)
	}
}

// steady tells whether the mean of no eight successive points is off by more than d.
func (p *piece) steady(d float64) bool {
	const run = 8
	s := 0.0
	for i, e := range p.e {
		s += e
		if i >= run {
			s -= p.e[i-run]
		}
		if i >= run-1 && math.Abs(s) > run*d {
			return false
		}
	}
	return true
}

// span is the way from end to end, or from the first to the last point if that is
// longer.
func (p *piece) span() float64 { return math.Max(dist(p.a, p.b), dist(p.q[0], p.q[len(p.q)-1])) }

// astray tells whether some point of p lies farther than d off the other piece.
func (p *piece) astray(o *piece, d float64) bool {
	for _, q := range p.q {
		if math.Abs(o.off(q)) > d {
			return true
		}
	}
	return false
}

// sharpen leaves out pieces so short that they are the blur's rounding of the corner
// between their neighbours.
func (f *profile) sharpen() {
	short := 0.1 + 2.5*f.blur + 2.5*f.pitch
	for i := 1; i+1 < len(f.pieces); i++ {
		a, p, b := f.pieces[i-1], f.pieces[i], f.pieces[i+1]
		if p.span() > short || a.span() < p.span() || b.span() < p.span() {
			continue
		}
		m := p.q[len(p.q)/2]
		n1, n2 := a.left(m), b.left(m)
		if math.Abs(cross(n1, n2)) < 0.1 {
			continue
		}
		if at, ok := meet(a, b, m); ok && dist(at, m) < short {
			f.pieces = append(f.pieces[:i], f.pieces[i+1:]...)
			i--
		}
	}
}

// speck is the length in mm under which what turns to and fro at a corner is none of the
// profile. Derived here.
const speck = 0.3

// clear leaves out what dirt or splinters left at a corner: short pieces between two
// longer ones that do not turn steadily from the one's direction to the other's.
func (f *profile) clear() {
	for i := 0; i+2 < len(f.pieces); i++ {
		a := f.pieces[i]
		run := 0.0
		for j := i + 2; j < len(f.pieces) && j <= i+6; j++ {
			m := f.pieces[j-1]
			if run += m.span(); run > speck {
				break
			}
			b := f.pieces[j]
			if a.span() < run || b.span() < run || turnsSteadily(f.pieces[i:j+1]) {
				continue
			}
			mid := m.q[len(m.q)/2]
			if math.Abs(cross(a.left(mid), b.left(mid))) < 0.1 {
				continue
			}
			if at, ok := meet(a, b, mid); ok && dist(at, mid) < 2*speck {
				f.pieces = append(f.pieces[:i+1:i+1], f.pieces[j:]...)
				f.bridged++
				i--
				break
			}
		}
	}
}

// turnsSteadily tells whether successive pieces turn to one side all along, by less
// than a half turn.
func turnsSteadily(ps []*piece) bool {
	angle := func(p *piece, end bool) float64 {
		q := p.q[0]
		if end {
			q = p.q[len(p.q)-1]
		}
		n := p.left(q)
		return math.Atan2(-n[0], n[1])
	}
	turn := func(a, b float64) float64 { return math.Remainder(b-a, 2*math.Pi) }
	total := turn(angle(ps[0], true), angle(ps[len(ps)-1], false))
	for i := 1; i < len(ps); i++ {
		t := turn(angle(ps[i-1], true), angle(ps[i], false))
		if t*total < -0.05*math.Abs(total) {
			return false
		}
		if i+1 < len(ps) && ps[i].round && turn(angle(ps[i], false), angle(ps[i], true))*total < 0 {
			return false
		}
	}
	return true
}

// assemble makes the path of the pieces: from the lower face to the upper one,
// neighbours carried on to where they meet.
func (f *profile) assemble(thick float64) *Refusal {
	for try := 0; ; try++ {
		ps := f.tips(f.pieces, thick)
		vs, near, why := vertices(ps, thick)
		var path geom.Path
		if why == nil {
			path, near, why = pathOf(ps, vs, f.noise+f.pitch/4, false)
		}
		if why == nil {
			f.pieces, f.path = ps, path
			return nil
		}
		// Blur may make an arc of a short tongue and the corner before it, which no cut
		// leaves: what is there in truth are two pieces.
		if why.Reason == Undercut && ps[near].round && try < 6 {
			if two := ps[near].bend(f.pitch / 20); two != nil {
				f.pieces = append(append(ps[:near:near], two...), ps[near+1:]...)
				continue
			}
		}
		// Dirt at a corner may make it impossible: the shortest piece there may go.
		least := -1
		for i := max(near-2, 1); i <= near+2 && i+1 < len(ps); i++ {
			if ps[i].span() < smallest && (least < 0 || ps[i].span() < ps[least].span()) {
				least = i
			}
		}
		if least < 0 || try == 6 {
			return why
		}
		f.pieces = append(ps[:least:least], ps[least+1:]...)
		f.bridged++
	}
}

// tips leaves out what a chip left at the faces: pieces there that are short, in
// whole at most [chipped], and inside the tip that the next long piece makes with the
// face. A single piece square to the face is a land and stays, unless it is rougher
// than the rest.
func (f *profile) tips(ps []*piece, thick float64) []*piece {
	ends := [2]float64{0, thick}
	for side, z := range ends {
		at := func(k int) *piece { // from the face inward
			if side == 0 {
				return ps[k]
			}
			return ps[len(ps)-1-k]
		}
		// The next long piece: the first that by itself runs on to the face nearby.
		for k := 0; k < min(6, len(ps)-1); k++ {
			long := at(k)
			if long.span() < chipped || math.Abs(long.slope()) < 0.17 {
				if reach := math.Abs(long.q[len(long.q)/2][1] - z); reach > chipped {
					break
				}
				continue
			}
			if k == 0 {
				break
			}
			near, far := long.q[0], long.q[len(long.q)-1]
			if side == 1 {
				near, far = far, near
			}
			rise := math.Abs(near[1] - z)
			land := k == 1 && f.land(at(0))
			hit, ok := long.atHeight(z, near)
			if rise > chipped || !ok || dist(hit, near) > 1.6*chipped || dist(hit, far) < dist(near, far) {
				break
			}
			if land && (at(0).off(hit) < 0 || !f.wooden(hit, near, orb.Point{near[0], z})) {
				break
			}
			out := 0.0 // what stands out of the long piece: wood, and no chip
			for _, q := range f.cuts[0].between(math.Max(0.1, 3*f.blur)) {
				if side == 0 && q[1] < near[1] || side == 1 && q[1] > near[1] {
					out = math.Max(out, long.off(q))
				}
			}
			if out > speck {
				break
			}
			f.carried = math.Max(f.carried, rise)
			if side == 0 {
				ps = ps[k:]
			} else {
				ps = ps[:len(ps)-k]
			}
			break
		}
	}
	return ps
}

// chipped is how much of a tip in mm may be missing. Derived here: what is larger is
// no chip that a scan should be made of.
const chipped = 1.0

// land tells whether a piece at a face is a land that the cutter or the setting left:
// square to the face and no rougher than the rest.
func (f *profile) land(p *piece) bool {
	a, b := p.q[0], p.q[len(p.q)-1]
	return !p.round && p.span() > 4*f.pitch && math.Abs(b[0]-a[0]) < 0.05*math.Abs(b[1]-a[1])+f.pitch && p.sd < 2.5*f.noise+f.pitch/4
}

// wooden tells whether most of the triangle is as bright as the board: a hair across a
// tip makes what lies behind it look cut off.
func (f *profile) wooden(p, q, o orb.Point) bool {
	c := f.cuts[0]
	at := func(x orb.Point) float64 { x = c.out(x); return c.b.r.at(x[0], x[1]) }
	deep := math.Max(p[0], math.Max(q[0], o[0])) + 0.6
	board := at(orb.Point{deep, (q[1] + 2*o[1]) / 3})
	air := at(orb.Point{math.Min(p[0], math.Min(q[0], o[0])) - 1, (q[1] + 2*o[1]) / 3})
	wood, n := 0, 0
	for i := 1; i < 8; i++ {
		for j := 1; i+j < 8; j++ {
			u, v := float64(i)/8, float64(j)/8
			x := orb.Point{u*p[0] + v*q[0] + (1-u-v)*o[0], u*p[1] + v*q[1] + (1-u-v)*o[1]}
			if v := at(x); math.Abs(v-board) < math.Abs(v-air) {
				wood++
			}
			n++
		}
	}
	return wood > n/2
}

// slope is the sine of the angle by which the piece rises, from end to end.
func (p *piece) slope() float64 {
	a, b := p.q[0], p.q[len(p.q)-1]
	return (b[1] - a[1]) / math.Max(dist(a, b), 1e-9)
}

// vertices are the ends of the pieces; where they cannot be found, near is the piece
// at fault.
func vertices(ps []*piece, thick float64) (vs []orb.Point, near int, why *Refusal) {
	n := len(ps)
	vs = make([]orb.Point, n+1)
	var ok bool
	if vs[0], ok = ps[0].atHeight(0, ps[0].q[0]); !ok {
		return nil, 0, refuse(Unclear, "a cut that runs from face to face", "the cut's lowest piece does not reach the face")
	}
	if vs[n], ok = ps[n-1].atHeight(thick, ps[n-1].q[len(ps[n-1].q)-1]); !ok {
		return nil, n - 1, refuse(Unclear, "a cut that runs from face to face", "the cut's highest piece does not reach the face")
	}
	for i := 1; i < n; i++ {
		a, b := ps[i-1].q[len(ps[i-1].q)-1], ps[i].q[0]
		m := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		if vs[i], ok = meet(ps[i-1], ps[i], m); !ok || dist(vs[i], m) > 1+3*dist(a, b) {
			return nil, i, refuse(Unclear, "a clean cut in sharp focus", "neighbouring pieces of the cut's outline do not meet near x %.2f mm, z %.2f mm", m[0], m[1])
		}
	}
	for i, p := range ps {
		p.a, p.b = vs[i], vs[i+1]
	}
	return vs, 0, nil
}

// pathOf makes the path of the pieces between their ends. A straight pass leaves
// heights that never fall: what falls by no more than slack is made level, what falls
// by more is refused, unless it is to be bent upright.
func pathOf(ps []*piece, vs []orb.Point, slack float64, bend bool) (path geom.Path, near int, why *Refusal) {
	vs = append([]orb.Point{}, vs...)
	undercut := func(at orb.Point) *Refusal {
		return refuse(Undercut, "a cut of one straight pass: is the board the right way up, and the whole of it one piece?",
			"the outline is undercut near x %.2f mm, z %.2f mm", at[0], at[1])
	}
	for i, p := range ps {
		dz := vs[i+1][1] - vs[i][1]
		l := dist(vs[i], vs[i+1])
		limit := slack + 3*p.sd*math.Sqrt(p.tau*p.cov[len(p.cov)-1])*l
		if p.round || math.Abs(dz) > limit {
			continue
		}
		if dz < 0 || math.Abs(dz) < 0.02*l {
			m := (vs[i][1] + vs[i+1][1]) / 2
			switch {
			case i == 0:
				m = vs[0][1]
			case i == len(ps)-1:
				m = vs[i+1][1]
			}
			vs[i][1], vs[i+1][1] = m, m
		}
	}
	for i := range ps {
		if d := vs[i][1] - vs[i+1][1]; d > 0 {
			if d > 4*slack && !bend {
				return geom.Path{}, i, undercut(vs[i])
			}
			vs[i+1][1] = vs[i][1]
		}
	}
	var out []geom.Vertex
	for i, p := range ps {
		if i+1 < len(vs) && dist(vs[i], vs[i+1]) < 1e-4 {
			continue
		}
		v := geom.Vertex{Point: vs[i]}
		if p.round {
			q := *p
			q.a, q.b = vs[i], vs[i+1]
			v.Bulge = q.bulge()
			if b := rising(q.a, q.b, v.Bulge); math.Abs(b-v.Bulge)*dist(q.a, q.b)/2 > 0.05 && !bend {
				return geom.Path{}, i, undercut(q.a)
			} else {
				v.Bulge = b
			}
		}
		out = append(out, v)
	}
	out = append(out, geom.Vertex{Point: vs[len(vs)-1]})
	if len(out) < 2 {
		return geom.Path{}, 0, refuse(Unclear, "a cut that runs from face to face", "nothing is left of the cut's outline")
	}
	path = geom.Path{V: out}
	for i := range path.Edges() {
		if e := path.Edge(i); math.Abs(e.Bulge) > 1 || math.IsNaN(e.Bulge+e.A[0]+e.A[1]) {
			return geom.Path{}, i, refuse(Unclear, "a clean cut in sharp focus", "the cut's outline cannot be fitted near x %.2f mm, z %.2f mm", e.A[0], e.A[1])
		}
	}
	return path, 0, nil
}

// rising holds the bulge of an arc from a to b so that height never falls on it: the
// tangents at the ends, half the arc's angle off the chord, point not downward.
func rising(a, b orb.Point, bulge float64) float64 {
	chord := math.Atan2(b[1]-a[1], b[0]-a[0])
	if chord < 0 {
		chord = 0
	}
	most := math.Tan(math.Min(chord, math.Pi-chord) / 2 * (1 - 1e-9))
	return math.Copysign(math.Min(math.Abs(bulge), most), bulge)
}

func (f *profile) String() string {
	return fmt.Sprintf("%d pieces, noise %.4f, tau %.1f", len(f.pieces), f.noise, f.tau)
}
