package trace_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/trace"
)

// A drawing is a scan made up from a profile that is known exactly. Lengths are mm,
// brightness runs from 0 to 255.
type drawing struct {
	profile geom.Path // x(z) from z = 0 to thick, board to the right
	thick   float64
	length  float64 // of the board from x = 0 to its square back
	margin  float64 // background round it
	dpi     float64
	tilt    float64 // degrees, counter-clockwise
	right   bool    // the cut end on the right
	upside  bool    // the face that was down is on top
	offEdge bool    // the back runs out of the picture

	blur          float64 // pixels, standard deviation
	noise         float64
	board, ground float64
	grain         float64 // depth of the lines
	pitch         float64 // mm between them
	fan           float64 // angle of the lines, degrees
	slope         float64 // share of light lost from one side to the other
	bow           float64 // the same from the middle to the rim
	shadow        float64 // share of light lost beside the board
	shadowWide    float64 // mm
	dirt          int
	hairs         int
	chip          float64 // mm lost of the tip
	rough         float64 // mm, standard deviation of the cut's waves
	roughLong     float64 // mm, their length
	gamma         bool    // blurred as light, kept as a curve
	seed          uint64
}

// clean is a good scan of the profile.
func clean(profile geom.Path, thick, dpi float64, seed uint64) drawing {
	return drawing{profile: profile, thick: thick, length: 45, margin: 5, dpi: dpi, blur: 1, noise: 4,
		board: 150, ground: 235, grain: 18, pitch: 1.7, fan: 8, seed: seed}
}

// outline is the board's outline, counter-clockwise, cut end on the left, down face at
// the bottom.
func (d *drawing) outline(rnd *rand.Rand) []orb.Point {
	line := d.profile.Flatten(1e-4)
	if d.rough > 0 || d.chip > 0 {
		line = roughen(line, d.rough, math.Max(d.roughLong, 0.1), rnd)
	}
	if d.chip > 0 { // off the outermost corner
		top := line[len(line)-1]
		if b := line[0]; b[0] < top[0] {
			top = b
		}
		var out orb.LineString
		for _, p := range line {
			if math.Hypot(p[0]-top[0], p[1]-top[1]) > d.chip {
				out = append(out, p)
			}
		}
		// a ragged break
		mk := func(x, z float64) orb.Point { return orb.Point{top[0] + x, top[1] + z} }
		s := 1.0
		if top[1] > d.thick/2 {
			s = -1
		}
		broken := []orb.Point{mk(0.9*d.chip, s*0.55*d.chip), mk(0.95*d.chip, s*0.35*d.chip), mk(1.25*d.chip, s*0.2*d.chip), mk(1.3*d.chip, 0)}
		if s < 0 {
			out = append(out, broken...)
		} else {
			for i, j := 0, len(broken)-1; i < j; i, j = i+1, j-1 {
				broken[i], broken[j] = broken[j], broken[i]
			}
			out = append(broken, out...)
		}
		line = out
	}
	out := []orb.Point{}
	for i := len(line) - 1; i >= 0; i-- { // down the cut
		out = append(out, line[i])
	}
	out = append(out, orb.Point{d.length, 0}, orb.Point{d.length, d.thick})
	return out
}

// roughen moves the points of a line to and fro across it.
func roughen(line orb.LineString, sd, long float64, rnd *rand.Rand) orb.LineString {
	var out orb.LineString
	const step = 0.02
	phase := [6]float64{}
	for i := range phase {
		phase[i] = rnd.Float64() * 2 * math.Pi
	}
	s := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		if l == 0 {
			continue
		}
		n := orb.Point{-(b[1] - a[1]) / l, (b[0] - a[0]) / l}
		for t := 0.0; t < l; t += step {
			e := 0.0
			for k, p := range phase {
				e += math.Sin(2*math.Pi*(s+t)/long*(0.6+0.37*float64(k)) + p)
			}
			e *= sd / math.Sqrt(3)
			q := orb.Point{a[0] + (b[0]-a[0])*t/l + e*n[0], a[1] + (b[1]-a[1])*t/l + e*n[1]}
			out = append(out, q)
		}
		s += l
	}
	// The faces stay where they are: what is rough is the cut alone.
	top := line[len(line)-1]
	out = append(out, orb.Point{out[len(out)-1][0], top[1]})
	out = append(orb.LineString{{out[0][0], line[0][1]}}, out...)
	for i := range out {
		out[i][1] = math.Min(math.Max(out[i][1], line[0][1]), top[1])
	}
	return out
}

// picture draws the scan as brightness from 0 to 255.
func (d *drawing) picture() (w, h int, pix []float32) {
	rnd := rand.New(rand.NewPCG(d.seed, 99))
	out := d.outline(rnd)
	px := d.dpi / 25.4
	s, c := math.Sincos(d.tilt * math.Pi / 180)
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for i, p := range out {
		if d.right {
			p[0] = d.length - p[0]
		}
		if d.upside {
			p[1] = d.thick - p[1]
		}
		p = orb.Point{c*p[0] - s*p[1], s*p[0] + c*p[1]}
		out[i] = p
		for k := range 2 {
			lo[k], hi[k] = math.Min(lo[k], p[k]), math.Max(hi[k], p[k])
		}
	}
	dx, dy := rnd.Float64()/px, rnd.Float64()/px // anywhere on the pixels
	for k := range 2 {
		lo[k], hi[k] = lo[k]-d.margin, hi[k]+d.margin
	}
	if d.offEdge && d.right {
		lo[0] += d.margin + 8
	} else if d.offEdge {
		hi[0] -= d.margin + 8
	}
	w, h = int((hi[0]-lo[0])*px), int((hi[1]-lo[1])*px)
	for i, p := range out {
		out[i] = orb.Point{(p[0] - lo[0] + dx) * px, (hi[1] - p[1] + dy) * px}
	}
	cov := coverage(out, w, h)
	var near []float32
	if d.shadow > 0 {
		near = spreadOut(cov, w, h, d.shadowWide*px)
	}
	if !d.gamma {
		blurred(cov, w, h, d.blur)
	}
	ang := d.fan * math.Pi / 180
	gs, gc := math.Sincos(ang)
	pix = make([]float32, w*h)
	for y := range h {
		for x := range w {
			i := y*w + x
			u, v := float64(x)/float64(w), float64(y)/float64(h)
			light := 1 - d.slope*u - d.bow*((u-0.5)*(u-0.5)+(v-0.5)*(v-0.5))*2
			g := d.ground * light
			if near != nil {
				g *= 1 - d.shadow*float64(near[i])
			}
			X, Y := float64(x)/px, float64(y)/px
			ph := (-gs*X + gc*Y + 0.4*math.Sin(X/9)) / d.pitch
			line := ph - math.Floor(ph)
			b := (d.board - d.grain*math.Pow(line, 3) + 0.3*d.grain*math.Sin(7.3*X+1.7*Y)) * light
			pix[i] = float32(b*float64(cov[i]) + g*(1-float64(cov[i])))
			if d.gamma {
				pix[i] = float32(math.Pow(math.Max(float64(pix[i]), 0)/255, 2.2) * 255)
			}
		}
	}
	if d.gamma {
		blurred(pix, w, h, d.blur)
		for i, v := range pix {
			pix[i] = float32(math.Pow(math.Max(float64(v), 0)/255, 1/2.2) * 255)
		}
	}
	for range d.dirt {
		x, y, r := rnd.Float64()*float64(w), rnd.Float64()*float64(h), (0.03+0.25*rnd.Float64()*rnd.Float64())*px
		to := float32(30 + 200*rnd.Float64())
		blot(pix, w, h, x, y, r, to)
	}
	for range d.hairs {
		x, y, a := rnd.Float64()*float64(w), rnd.Float64()*float64(h), rnd.Float64()*2*math.Pi
		for range int(5 * px) {
			blot(pix, w, h, x, y, 0.03*px, 60)
			a += 0.02 * rnd.NormFloat64()
			x, y = x+math.Cos(a), y+math.Sin(a)
		}
	}
	for i := range pix {
		pix[i] += float32(d.noise * rnd.NormFloat64())
	}
	return w, h, pix
}

// grey makes the picture one of 8 bits.
func (d *drawing) grey() *image.Gray {
	w, h, pix := d.picture()
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i, v := range pix {
		m.Pix[i] = level(v)
	}
	return m
}

// pieces is the picture of n boards with one profile above one another, each turned and
// grained in its own way, with dirt and chips of its own.
func (d *drawing) pieces(n int) *image.Gray {
	if n <= 1 {
		return d.grey()
	}
	rnd := rand.New(rand.NewPCG(d.seed, 55))
	var all []*image.Gray
	w, h := 0, 0
	for k := range n {
		p := *d
		p.offEdge, p.slope, p.bow = false, 0, 0 // no seams
		if k > 0 {
			p.seed += uint64(1000003 * k)
			p.tilt, p.right = 8*rnd.Float64()-4, rnd.IntN(2) == 0
			p.fan, p.pitch = 60*rnd.Float64()-30, 0.6+1.9*rnd.Float64()
			p.length = d.thick + 9 + 16*rnd.Float64()
			p.chip *= float64(rnd.IntN(2))
		}
		g := p.grey()
		all, w, h = append(all, g), max(w, g.Rect.Dx()), h+g.Rect.Dy()
	}
	m := image.NewGray(image.Rect(0, 0, w, h))
	y := 0
	for _, g := range all {
		gw := g.Rect.Dx()
		for j := range g.Rect.Dy() {
			row := m.Pix[y*m.Stride : y*m.Stride+w]
			copy(row, g.Pix[j*g.Stride:j*g.Stride+gw])
			for i := gw; i < w; i++ { // the ground goes on, noise and all
				row[i] = row[gw-1-(i-gw)%8]
			}
			y++
		}
	}
	return m
}

func level(v float32) uint8 { return uint8(min(max(v+0.5, 0), 255)) }

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, m))
	return b.Bytes()
}

func jpegOf(t testing.TB, m image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}))
	return b.Bytes()
}

func open(t testing.TB, data []byte) *trace.Scan {
	t.Helper()
	s, err := trace.Open("scan.png", bytes.NewReader(data))
	require.NoError(t, err)
	return s
}

// scanOf is the drawing as a scan, without a file between.
func (d *drawing) scanOf(t testing.TB) *trace.Scan {
	t.Helper()
	return open(t, pngOf(t, d.grey()))
}

// paint gives a grey picture two colours: board's and ground's brightness become them.
func paint(g *image.Gray, board, ground float64, a, b color.RGBA) *image.RGBA {
	m := image.NewRGBA(g.Bounds())
	for i, v := range g.Pix {
		f := (float64(v) - ground) / (board - ground)
		mix := func(x, y uint8) uint8 { return uint8(math.Min(math.Max(float64(y)+f*(float64(x)-float64(y)), 0), 255)) }
		m.Pix[4*i], m.Pix[4*i+1], m.Pix[4*i+2], m.Pix[4*i+3] = mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255
	}
	return m
}
