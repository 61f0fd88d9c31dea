package trace_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/trace"
)

// small is a clean scan of the demo cutter's cut at 400 pixels an inch.
func small(seed uint64) drawing {
	p, c := ridge()
	q, _ := onBoard(p, c, 19, 0)
	d := clean(q, 19, 400, seed)
	d.length = 34
	return d
}

func try(t *testing.T, m image.Image, o trace.Options) (*trace.Result, error) {
	t.Helper()
	if o.Joint == "" {
		o.Joint = "lock-miter"
	}
	return trace.Trace([]*trace.Scan{open(t, pngOf(t, m))}, o)
}

// cropped is a part of a grey picture.
func cropped(m *image.Gray, r image.Rectangle) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, r.Dx(), r.Dy()))
	draw.Draw(out, out.Rect, m, r.Min, draw.Src)
	return out
}

func plainGrey(v, noise float64) *image.Gray {
	rnd := rand.New(rand.NewPCG(1, 1))
	m := image.NewGray(image.Rect(0, 0, 700, 500))
	for i := range m.Pix {
		m.Pix[i] = level(float32(v + noise*rnd.NormFloat64()))
	}
	return m
}

func TestRefusals(t *testing.T) {
	d := small(1)
	whole := d.grey()
	w, h := whole.Rect.Dx(), whole.Rect.Dy()
	changed := func(f func(*drawing)) *image.Gray {
		d := small(1)
		f(&d)
		return d.grey()
	}
	px := 400 / 25.4
	for _, tt := range []struct {
		name string
		m    image.Image
		o    trace.Options
		want []trace.Reason
	}{
		{"nothing but the lid", plainGrey(235, 4), trace.Options{DPI: 400}, []trace.Reason{trace.NoBoard, trace.Faint}},
		{"nothing at all", plainGrey(128, 0), trace.Options{DPI: 400}, []trace.Reason{trace.NoBoard}},
		{"black", plainGrey(3, 2), trace.Options{DPI: 400}, []trace.Reason{trace.TooDark}},
		{"white", plainGrey(254, 2), trace.Options{DPI: 400}, []trace.Reason{trace.Saturated}},
		{"too dark to tell", changed(func(d *drawing) { d.board, d.ground, d.grain = 9, 4, 2 }), trace.Options{DPI: 400}, []trace.Reason{trace.TooDark}},
		{"board burnt out", changed(func(d *drawing) { d.board, d.ground, d.grain = 330, 60, 10 }), trace.Options{DPI: 400}, []trace.Reason{trace.Saturated}},
		{"burnt out on a white lid", changed(func(d *drawing) { d.board, d.ground, d.grain = 300, 330, 10 }), trace.Options{DPI: 400}, []trace.Reason{trace.Saturated}},
		{"cut off through the cut", cropped(whole, image.Rect(int(10*px), 0, w, h)), trace.Options{DPI: 400}, []trace.Reason{trace.Clipped}},
		{"cut off through the upper face", cropped(whole, image.Rect(0, int(9*px), w, h)), trace.Options{DPI: 400}, []trace.Reason{trace.Clipped, trace.NoBoard, trace.NoCut}},
		{"cut off through the lower face", cropped(whole, image.Rect(0, 0, w, h-int(9*px))), trace.Options{DPI: 400}, []trace.Reason{trace.Clipped, trace.NoBoard, trace.NoCut}},
		{"tilted", changed(func(d *drawing) { d.tilt = 17 }), trace.Options{DPI: 400}, []trace.Reason{trace.Tilted}},
		{"tilted the other way", changed(func(d *drawing) { d.tilt = -40 }), trace.Options{DPI: 400}, []trace.Reason{trace.Tilted}},
		{"upright", changed(func(d *drawing) { d.tilt = 90 }), trace.Options{DPI: 400}, []trace.Reason{trace.Upright}},
		{"level, said upright", whole, trace.Options{DPI: 400, Down: "left"}, []trace.Reason{trace.Upright}},
		{"too coarse", whole, trace.Options{DPI: 150}, []trace.Reason{trace.TooCoarse}},
		{"no density", whole, trace.Options{}, []trace.Reason{trace.NoDensity}},
		{"out of focus", changed(func(d *drawing) { d.blur = 9 }), trace.Options{DPI: 400}, []trace.Reason{trace.Blurred, trace.Unclear, trace.NoBoard}},
		{"a density that cannot be", whole, trace.Options{DPI: 4000}, []trace.Reason{trace.Size, trace.NoBoard}},
		{"both ends square", changed(func(d *drawing) {
			d.profile = d.profile.Between(7, 12)
			for i := range d.profile.V {
				d.profile.V[i].Point[0] = 0
			}
			d.profile.V[0].Point[1], d.profile.V[len(d.profile.V)-1].Point[1] = 0, 19
			d.profile.V = append(d.profile.V[:1], d.profile.V[len(d.profile.V)-1])
		}), trace.Options{DPI: 400}, []trace.Reason{trace.NoCut}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := try(t, tt.m, tt.o)
			require.Error(t, err)
			var r *trace.Refusal
			require.True(t, errors.As(err, &r), "%v", err)
			assert.Contains(t, tt.want, r.Reason, "%v", err)
			assert.Contains(t, r.Error(), "; want ")
		})
	}
}

// It makes no difference in what colours, how deep and which way round the same scan is
// kept.
func TestSameScan(t *testing.T) {
	d := small(2)
	g := d.grey()
	ref, err := try(t, g, trace.Options{DPI: 400})
	require.NoError(t, err)
	same := func(t *testing.T, m image.Image, o trace.Options, tol float64) {
		t.Helper()
		r, err := try(t, m, o)
		require.NoError(t, err)
		assert.InDelta(t, ref.Board, r.Board, tol)
		assert.InDelta(t, ref.Centre[0], r.Centre[0], tol)
		assert.InDelta(t, ref.Centre[1], r.Centre[1], tol)
		rms, _ := apart(ref.Profile, r.Profile)
		assert.Less(t, rms, tol)
	}
	t.Run("inverted", func(t *testing.T) {
		m := image.NewGray(g.Rect)
		for i, v := range g.Pix {
			m.Pix[i] = 255 - v
		}
		same(t, m, trace.Options{DPI: 400}, 0.02)
	})
	t.Run("colours of one brightness", func(t *testing.T) {
		same(t, paint(g, d.board, d.ground, color.RGBA{200, 120, 60, 255}, color.RGBA{60, 150, 210, 255}), trace.Options{DPI: 400}, 0.02)
	})
	t.Run("no background", func(t *testing.T) {
		m := image.NewNRGBA(g.Rect)
		for i, v := range g.Pix {
			f := (float64(v) - d.ground) / (d.board - d.ground)
			m.Pix[4*i], m.Pix[4*i+1], m.Pix[4*i+2] = 180, 140, 90
			m.Pix[4*i+3] = level(float32(255 * f))
		}
		same(t, m, trace.Options{DPI: 400}, 0.03)
	})
	w, h := g.Rect.Dx(), g.Rect.Dy()
	moved := func(nw, nh int, f func(x, y int) (int, int)) *image.Gray {
		m := image.NewGray(image.Rect(0, 0, nw, nh))
		for y := range h {
			for x := range w {
				u, v := f(x, y)
				m.Pix[v*m.Stride+u] = g.Pix[y*g.Stride+x]
			}
		}
		return m
	}
	t.Run("half turn in 16 bits", func(t *testing.T) {
		m := image.NewGray16(g.Rect)
		for i, v := range moved(w, h, func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }).Pix {
			m.Pix[2*i], m.Pix[2*i+1] = v, v
		}
		same(t, m, trace.Options{DPI: 400, Down: "top"}, 0.005)
	})
	t.Run("mirrored in a palette", func(t *testing.T) {
		var pal color.Palette
		for i := range 256 {
			pal = append(pal, color.Gray{uint8(i)})
		}
		m := image.NewPaletted(g.Rect, pal)
		copy(m.Pix, moved(w, h, func(x, y int) (int, int) { return w - 1 - x, y }).Pix)
		same(t, m, trace.Options{DPI: 400}, 0.005)
	})
	t.Run("face up", func(t *testing.T) {
		same(t, moved(w, h, func(x, y int) (int, int) { return x, h - 1 - y }), trace.Options{DPI: 400, Down: "top"}, 0.005)
	})
	t.Run("clockwise", func(t *testing.T) { // the bottom comes to the left
		same(t, moved(h, w, func(x, y int) (int, int) { return h - 1 - y, x }), trace.Options{DPI: 400, Down: "left"}, 0.005)
	})
	t.Run("counter-clockwise", func(t *testing.T) {
		same(t, moved(h, w, func(x, y int) (int, int) { return y, w - 1 - x }), trace.Options{DPI: 400, Down: "right"}, 0.005)
	})
	t.Run("jpeg with its orientation", func(t *testing.T) {
		// kept turned by a quarter, to be seen turned back: Exif orientation 6
		m := moved(h, w, func(x, y int) (int, int) { return y, w - 1 - x })
		data := jpegOf(t, m, 95)
		exif := append([]byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"), 0)
		seg := append([]byte{0xFF, 0xE1, 0, byte(len(exif) + 2)}, exif...)
		data = append(append([]byte{0xFF, 0xD8}, seg...), data[2:]...)
		r, err := trace.Trace([]*trace.Scan{open(t, data)}, trace.Options{DPI: 400, Joint: "lock-miter"})
		require.NoError(t, err)
		assert.InDelta(t, ref.Centre[0], r.Centre[0], 0.02)
		assert.InDelta(t, ref.Centre[1], r.Centre[1], 0.02)
	})
}

// The density stands in the file: pHYs of PNG, JFIF of JPEG.
func TestDensity(t *testing.T) {
	d := small(3)
	g := d.grey()
	data := pngOf(t, g)
	phys := func(perMetre uint32, unit byte) []byte {
		c := binary.BigEndian.AppendUint32(nil, perMetre)
		c = append(binary.BigEndian.AppendUint32(c, perMetre), unit)
		body := append([]byte("pHYs"), c...)
		chunk := append(binary.BigEndian.AppendUint32(nil, 9), body...)
		chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))
		return append(append(append([]byte{}, data[:33]...), chunk...), data[33:]...)
	}
	assert.Equal(t, [2]float64{400, 400}, open(t, phys(15748, 1)).DPI)
	assert.Zero(t, open(t, phys(15748, 0)).DPI, "an aspect ratio is no density")
	jfif := func(unit byte, n uint16) []byte {
		j := jpegOf(t, g, 95)
		seg := []byte{0xFF, 0xE0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, unit, byte(n >> 8), byte(n), byte(n >> 8), byte(n), 0, 0}
		return append(append([]byte{0xFF, 0xD8}, seg...), j[2:]...)
	}
	assert.Equal(t, [2]float64{400, 400}, open(t, jfif(1, 400)).DPI)
	assert.InDelta(t, 401.32, open(t, jfif(2, 158)).DPI[0], 1e-9)
	assert.Zero(t, open(t, jfif(0, 1)).DPI)
	r, err := trace.Trace([]*trace.Scan{open(t, phys(15748, 1))}, trace.Options{Joint: "lock-miter"})
	require.NoError(t, err)
	assert.InDelta(t, 19, r.Board, 0.02)
	// Calipers set the scale right.
	r, err = trace.Trace([]*trace.Scan{open(t, data)}, trace.Options{Thickness: 19.3, Joint: "lock-miter"})
	require.NoError(t, err)
	assert.InDelta(t, 19.3, r.Board, 0.01)
	assert.InDelta(t, 400*19/19.3, r.DPI[0], 0.5)
}

// side puts pictures beside one another on one background.
func side(ms ...*image.Gray) *image.Gray {
	w, h := 0, 0
	for _, m := range ms {
		w, h = w+m.Rect.Dx(), max(h, m.Rect.Dy())
	}
	out := image.NewGray(image.Rect(0, 0, w, h))
	rnd := rand.New(rand.NewPCG(3, 3))
	for i := range out.Pix {
		out.Pix[i] = level(float32(235 + 4*rnd.NormFloat64()))
	}
	x := 0
	for _, m := range ms {
		draw.Draw(out, image.Rect(x, 0, x+m.Rect.Dx(), m.Rect.Dy()), m, image.Point{}, draw.Src)
		x += m.Rect.Dx()
	}
	return out
}

// Several pieces in a scan and several scans are averaged; pieces that differ are
// refused.
func TestPieces(t *testing.T) {
	p, c := ridge()
	piece := func(seed uint64, dz, tilt float64, right bool) *image.Gray {
		q, _ := onBoard(p, c, 19, dz)
		d := clean(q, 19, 400, seed)
		d.length, d.tilt, d.right = 32, tilt, right
		return d.grey()
	}
	r, err := try(t, side(piece(1, 0, 1, false), piece(2, 0, -2, true), piece(3, 0, 0.5, false)), trace.Options{DPI: 400})
	require.NoError(t, err)
	assert.Equal(t, 3, r.Pieces)
	assert.InDelta(t, 9.5, r.Centre[0], r.Sure.Centre)
	assert.InDelta(t, 9.5, r.Centre[1], r.Sure.Centre)
	assert.Less(t, r.Sure.Centre, 0.06)
	assert.NotEmpty(t, r.Show().Pix)

	a, b := open(t, pngOf(t, piece(4, 0, 1, false))), open(t, pngOf(t, piece(5, 0, 2, true)))
	r, err = trace.Trace([]*trace.Scan{a, b}, trace.Options{DPI: 400, Joint: "lock-miter"})
	require.NoError(t, err)
	assert.Equal(t, 2, r.Pieces)

	var why *trace.Refusal
	_, err = try(t, side(piece(1, 0, 1, false), piece(2, 0.6, 0, false)), trace.Options{DPI: 400})
	require.ErrorAs(t, err, &why)
	assert.Equal(t, trace.Different, why.Reason)
	assert.Contains(t, why.Error(), "two different profiles")

	turned := piece(2, 0.3, 1, false)
	w, h := turned.Rect.Dx(), turned.Rect.Dy()
	for y := range h / 2 {
		for x := range w {
			i, j := y*turned.Stride+x, (h-1-y)*turned.Stride+x
			turned.Pix[i], turned.Pix[j] = turned.Pix[j], turned.Pix[i]
		}
	}
	_, err = try(t, side(piece(1, 0.3, 1, false), turned), trace.Options{DPI: 400})
	require.ErrorAs(t, err, &why)
	assert.Contains(t, why.Error(), "other face down")
}

// Whatever the bytes, there is an answer or a refusal.
func FuzzOpen(f *testing.F) {
	d := small(4)
	d.dpi, d.length = 320, 30
	g := d.grey()
	tiny := image.NewGray(image.Rect(0, 0, 64, 48))
	for y := range 48 {
		for x := range 64 {
			if x > 20-y/4 && y > 8 && y < 40 {
				tiny.Pix[y*64+x] = 200
			}
		}
	}
	f.Add(pngOf(f, tiny), 300.0, false)
	f.Add(jpegOf(f, tiny, 70), 600.0, true)
	f.Add(jpegOf(f, g, 60), 320.0, false)
	f.Add(jpegOf(f, g, 60), 1e-300, true)
	f.Fuzz(func(t *testing.T, data []byte, dpi float64, thick bool) {
		if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && c.Width*c.Height > 1<<20 {
			return // takes time only
		}
		s, err := trace.Open("fuzz", bytes.NewReader(data))
		if err != nil {
			return
		}
		o := trace.Options{DPI: dpi, Joint: "lock-miter"}
		if thick {
			o.Thickness = 19
		}
		r, err := trace.Trace([]*trace.Scan{s}, o)
		if err != nil {
			var why *trace.Refusal
			if !errors.As(err, &why) {
				t.Fatalf("no refusal: %v", err)
			}
			return
		}
		c, err := r.Cutter(trace.Naming{Name: "Fuzz", Joint: "lock-miter"})
		if err != nil {
			t.Fatal(err)
		}
		c.Handle = "fuzz"
		parseBack(t, c.Text(r.Remarks(c)...))
	})
}
