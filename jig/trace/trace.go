package trace

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Options say what cannot be seen.
type Options struct {
	DPI       float64 // pixels an inch, 0 to take the files' word
	Thickness float64 // of the board in mm by calipers, 0 if not measured; then it gives the scale
	Down      string  // the face in the picture that was down: bottom, top, left or right; bottom if ""
	Joint     string  // as in a cutter's file
}

// Downs are the words that Options.Down may be.
var Downs = []string{"bottom", "top", "left", "right"}

// A Corner is a point where two pieces of the profile meet.
type Corner struct {
	At   orb.Point
	Sure float64 // mm: with 95 % certainty it lies within so much of there
}

// A Result is a traced profile in the board's frame (x, z).
type Result struct {
	Board   float64    // mm, thickness
	Tilt    float64    // degrees, of the first piece against the picture's horizontal (vertical for left and right), counter-clockwise
	Profile geom.Path  // from z = 0 to the board's thickness; x = 0 is its outermost point
	Corners []Corner   // as many as vertices
	Centre  *orb.Point // of symmetry; nil for joints without
	Sure    Sure
	Pieces  int // cut ends measured
	DPI     [2]float64
	Noise   float64 // mm, of one point of the outline
	Blur    float64 // mm, standard deviation of the edge's rise
	Notes   []string
	cuts    []*cut
}

// Sure is how sure a result is: with 95 % certainty it is off by no more. The
// scanner's own error of scale is not in it.
type Sure struct {
	Centre  float64 // mm
	Profile float64 // mm, square to the profile, the worst piece of it
	Board   float64 // mm
}

// leastDPI is the coarsest picture that is measured by, pixels an inch: at 300 a pixel
// is 0.085 mm, and the centre sure to some hundredths. Derived here.
const leastDPI = 290

// mostTilt is how far a board may be turned in the picture, in degrees: up to there no
// doubt arises which face is the bottom one.
const mostTilt = 10

// Trace measures the profile that the scans show. The error is a *[Refusal].
func Trace(scans []*Scan, o Options) (*Result, error) {
	var cuts []*cut
	for _, s := range scans {
		cs, why := s.cuts(o)
		if why != nil {
			why.Scan = s.Name
			return nil, why
		}
		cuts = append(cuts, cs...)
	}
	if len(cuts) == 0 {
		return nil, refuse(NoBoard, "at least one scan", "no scan")
	}
	f, why := fitProfile(cuts)
	if why != nil {
		if len(scans) == 1 {
			why.Scan = scans[0].Name
		}
		return nil, why
	}
	r := &Result{Board: 0, Pieces: len(cuts), Noise: f.noise, Blur: f.blur, cuts: cuts, DPI: cuts[0].b.r.dpi}
	for _, c := range cuts {
		r.Board += c.thick / float64(len(cuts))
	}
	r.Tilt = cuts[0].b.tilt(o.Down)
	if why := r.judge(f, o.Joint); why != nil {
		if len(scans) == 1 {
			why.Scan = scans[0].Name
		}
		return nil, why
	}
	if f.bridged > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("dirt or chips were bridged at %d %s", f.bridged, plural(f.bridged, "place", "places")))
	}
	if f.carried > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("a chipped tip was carried on by %.2f mm", f.carried))
	}
	return r, nil
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// density is the picture's pixels an inch, across and down, the right way up.
func (s *Scan) density(o Options) ([2]float64, *Refusal) {
	d := s.DPI
	if s.turn >= 5 {
		d[0], d[1] = d[1], d[0]
	}
	if o.DPI > 0 {
		d = [2]float64{o.DPI, o.DPI}
	}
	if o.Thickness > 0 && !(math.Min(d[0], d[1]) >= leastDPI && math.Max(d[0], d[1]) <= 5000) {
		d = [2]float64{600, 600} // set right once the board is found
	}
	switch {
	case !(d[0] > 0 && d[1] > 0):
		return d, refuse(NoDensity, "--dpi, or the board's thickness by calipers", "the file does not say how many pixels make an inch")
	case math.Min(d[0], d[1]) < leastDPI:
		return d, refuse(TooCoarse, "at least 300 pixels an inch, better 1200", "the picture is too coarse: %.4g pixels an inch", math.Min(d[0], d[1]))
	case math.Max(d[0], d[1]) > 20000:
		return d, refuse(Size, "at most 20000", "%.4g pixels an inch", math.Max(d[0], d[1]))
	case math.Max(d[0], d[1]) > 4*math.Min(d[0], d[1]):
		return d, refuse(Size, "pixels about as high as wide", "%.4g pixels an inch across and %.4g down", d[0], d[1])
	}
	return d, nil
}

// cuts finds the cut ends in the picture.
func (s *Scan) cuts(o Options) ([]*cut, *Refusal) {
	dpi, why := s.density(o)
	if why != nil {
		return nil, why
	}
	if o.Thickness > 0 {
		// Twice: once to find the thickness in pixels, once at that scale.
		bs, why := s.boards(dpi)
		if why != nil {
			return nil, why
		}
		f := bs[0].thick / o.Thickness
		dpi[0], dpi[1] = dpi[0]*f, dpi[1]*f
		if !(math.Min(dpi[0], dpi[1]) >= leastDPI) {
			return nil, refuse(TooCoarse, "at least 300 pixels an inch, better 1200", "by the board's thickness the picture has %.0f pixels an inch", math.Min(dpi[0], dpi[1]))
		}
		if math.Max(dpi[0], dpi[1]) > 20000 {
			return nil, refuse(Size, "at most 20000; is the thickness right?", "by the board's thickness the picture has %.4g pixels an inch", math.Max(dpi[0], dpi[1]))
		}
	}
	bs, why := s.boards(dpi)
	if why != nil {
		return nil, why
	}
	var cuts []*cut
	for _, b := range bs {
		cs, why := b.cutEnds(s.Name, o.Down)
		if why != nil {
			return nil, why
		}
		cuts = append(cuts, cs...)
	}
	return cuts, nil
}

// boards finds the boards in the picture, from the largest on.
func (s *Scan) boards(dpi [2]float64) ([]*board, *Refusal) {
	o := s.overviewOf(dpi)
	if len(o.pix) == 0 {
		return nil, refuse(TooCoarse, "a larger picture", "the picture is too small")
	}
	seg, why := o.segment()
	if why != nil {
		return nil, why
	}
	r := s.project(seg.weights, dpi)
	sign := 1.0
	if r.pix8 != nil { // taken as it is, whichever side is brighter
		sign = math.Copysign(1, seg.weights[0])
	}
	r.curve.whole = true
	if r.pix8 == nil {
		for _, w := range seg.weights {
			r.curve.whole = r.curve.whole && w*seg.weights[0] >= 0
		}
		if len(seg.weights) == 4 && math.Abs(seg.weights[3]) > 0.05 {
			r.curve.whole = false // opacity is no light
		}
		r.curve.inverted = seg.weights[0] < 0
	}
	return seg.boards(r, sign)
}

func (g *segmentation) boards(r *raster, sign float64) ([]*board, *Refusal) {
	picture := orb.Bound{Min: orb.Point{0, -float64(r.h) * 25.4 / r.dpi[1]}, Max: orb.Point{float64(r.w) * 25.4 / r.dpi[0], 0}}
	const area = 40 // mm²: no board is smaller, dirt seldom larger
	var first *Refusal
	var out []*board
	for try := range 2 {
		mask := g.mask
		if try == 1 {
			if len(out) > 0 {
				break
			}
			// What fills the rim may be the board's own colour.
			mask = make([]bool, len(g.mask))
			for i := range mask {
				mask[i] = !g.mask[i]
			}
			sign = -sign
		}
		mask = tidy(mask, g.o.w, g.o.h, 2)
		for _, b := range g.o.blobs(mask, area) {
			bd, why := boardOf(r, sign, b, picture)
			switch {
			case why == nil:
				out = append(out, bd)
			case first == nil:
				first = why
			}
			if len(out) == 40 {
				break
			}
		}
	}
	if len(out) == 0 {
		if first == nil {
			first = refuse(NoBoard, "the end of a board, clearly darker or lighter than what lies behind it", "no board: nothing of at least %d mm² stands out", area)
		}
		return nil, first
	}
	if why := g.exposure(r, out[0], sign); why != nil {
		return nil, why
	}
	return out, nil
}

// exposure refuses a board as bright, or as dark, as the scanner can tell: its edge is
// then not where the brightness is half way.
func (g *segmentation) exposure(r *raster, b *board, sign float64) *Refusal {
	var v []float64
	for _, e := range b.ends {
		for i := 0; i < len(e.line); i += 7 {
			q := b.into(e.line[i])
			for _, z := range [3]float64{0.3, 0.5, 0.7} {
				p := b.out(orb.Point{q[0], b.thick * z})
				if r.inside(p[0], p[1]) {
					v = append(v, r.at(p[0], p[1]))
				}
			}
		}
	}
	if len(v) < 10 || g.noise < 1e-4 {
		return nil // a drawing
	}
	if m := quantile(v, 0.5); m > 0.997 && sign > 0 {
		return refuse(Saturated, "less exposure", "the board is saturated: as white as white can be")
	} else if m < 0.003 && sign < 0 {
		return refuse(TooDark, "more exposure", "the board is as black as black can be")
	}
	return nil
}

// tilt is the board's turn in degrees against the picture's horizontal, or vertical.
func (b *board) tilt(down string) float64 {
	t := b.angle * 180 / math.Pi
	if down == "left" || down == "right" {
		t -= math.Copysign(90, t)
	}
	return t
}

// cutEnds are the cut ends of a board.
func (b *board) cutEnds(scan, down string) ([]*cut, *Refusal) {
	level := math.Abs(b.angle) * 180 / math.Pi
	flip := down == "top"
	switch down {
	case "left", "right":
		if level < 90-mostTilt {
			if level <= mostTilt {
				return nil, refuse(Upright, "--down bottom or --down top", "the board's faces run left to right in the picture")
			}
			return nil, refuse(Tilted, fmt.Sprintf("at most %d°", mostTilt), "the board is tilted by %.1f° in the picture", 90-level)
		}
		// Turned by +90° the lower face of the turned frame looks right, by -90° left.
		flip = (b.angle > 0) == (down == "left")
	default:
		if level > 90-mostTilt {
			return nil, refuse(Upright, "--down left or --down right: which face was down on the table", "the board stands upright in the picture")
		}
		if level > mostTilt {
			return nil, refuse(Tilted, fmt.Sprintf("at most %d°", mostTilt), "the board is tilted by %.1f° in the picture", level)
		}
	}
	if b.thick < 2.5 || b.thick > 130 {
		return nil, refuse(Size, "2.5 mm to 130 mm; are the pixels an inch right?", "a board %.4g mm thick", b.thick)
	}
	if b.blur > math.Max(0.15, 4*b.r.pitch()) {
		return nil, refuse(Blurred, "a sharp scan: the end flat on the glass", "the picture is out of focus: edges rise over %.2f mm", 2*b.blur)
	}
	plain := func(e end) bool { return e.rough < 0.12 && math.Abs(e.lean) < 0.035 }
	var open []end
	clipped := 0
	for _, e := range b.ends {
		if e.clipped {
			clipped++
			continue
		}
		if !plain(e) {
			open = append(open, e)
		}
	}
	if len(open) == 2 {
		// A back sawn off roughly or out of square is no cut, beside a real one.
		x, y := open[0], open[1]
		if x.rough < y.rough {
			x, y = y, x
		}
		if y.rough < 0.3 && y.rough < x.rough/4 && math.Abs(y.lean) < 0.2 {
			open = []end{x}
		}
	}
	if len(open) == 0 {
		if clipped > 0 {
			return nil, refuse(Clipped, "the whole cut end, with some background round it", "the board's end is clipped: it runs out of the picture")
		}
		return nil, refuse(NoCut, "a board with a cut end", "both ends of the board are square")
	}
	var cuts []*cut
	for _, e := range open {
		c := newCut(scan, b, e, flip)
		c.finder = b.r.finder(b.sign, max(5, int(math.Ceil(3.2*b.blur/b.r.pitch()))+3))
		c.finder.curve, c.finder.blur = b.curve, b.blur
		c.least = 0.01
		cuts = append(cuts, c)
	}
	return cuts, nil
}

// sharpen reads the mean rise of brightness across the faces and finds from it the
// curve of brightness and the blur: the standard deviation in mm of the rise, half the
// way from 16 to 84 hundredths of it.
func (b *board) sharpen() {
	const reach = 10
	pitch := b.r.pitch()
	v := make([]float64, 4*reach+1)
	s, c := math.Sincos(b.angle)
	var rises [2][]float64
	for side := range rises {
		z, out := 0.0, orb.Point{s, -c}
		if side == 1 {
			z, out = b.thick, orb.Point{-s, c}
		}
		all := make([][]float64, len(v))
		var on []orb.Point
		for i := range b.line {
			if q := b.into(b.line[i]); math.Abs(q[1]-z) < 0.6*pitch { // else rough there, or not on the face
				on = append(on, q)
			}
		}
		for i, q := range on {
			// About the mean of its neighbours: a face a little bent blurs nothing, and
			// the noise by which a single point is off goes into no curve.
			const half = 8
			near := on[max(0, i-half):min(len(on), i+half+1)]
			q[1] = 0
			for _, p := range near {
				q[1] += p[1] / float64(len(near))
			}
			b.r.section(b.out(q), out, 2*reach, pitch/2, 0, pitch, v)
			for k := range all {
				all[k] = append(all[k], v[k])
			}
		}
		if len(on) > 30 {
			rise := make([]float64, len(v))
			for k := range rise {
				rise[k] = middleMean(all[k])
			}
			rises[side] = rise
		}
	}
	var known [][]float64
	for _, r := range rises {
		if r != nil {
			known = append(known, r)
		}
	}
	if b.blur == 0 { // once: edges found by one curve look like that curve's
		b.curve, b.doubt = curveOf(known, b.curve)
		b.doubt *= pitch / 2
	}
	blur := 0.0
	for _, r := range known {
		if k, ok := fitRise(r, b.curve, 1, 1); ok {
			blur = math.Max(blur, k.wide*pitch/2)
		}
	}
	if blur == 0 {
		blur = pitch
	}
	b.blur = math.Max(blur, pitch/4)
}

// middleMean is the mean of the middle half of the values: dirt does not count.
func middleMean(v []float64) float64 {
	slices.Sort(v)
	v = v[len(v)/4 : len(v)-len(v)/4]
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

func quantile(v []float64, f float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Clone(v)
	slices.Sort(s)
	return s[min(len(s)-1, int(f*float64(len(s))))]
}
