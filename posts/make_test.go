package posts

import (
	"bytes"
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/geom"
	"blockwright/jig/plate"
	"blockwright/posts/dxf"
)

func TestMakeProvesEveryFixture(t *testing.T) {
	for _, c := range fixtures(t) {
		t.Run(c.name, func(t *testing.T) {
			f, files, reports, err := Make(t.Context(), c.request)
			require.NoError(t, err)
			for _, ext := range []string{"ngc", "engrave.ngc", "frame.ngc", "nc", "engrave.nc", "frame.nc", "outline.ngc", "dxf", "r12.dxf", "svg", "html"} {
				assert.NotEmpty(t, files[ext], ext)
			}
			assert.Len(t, files, 11)
			limit := 0.0005
			if c.request.Shop.Units == "in" {
				limit = inchLimit
			}
			for _, ext := range []string{"ngc", "nc"} {
				r := reports[ext]
				assert.LessOrEqual(t, r.Gouge.Size, limit, ext)
				assert.LessOrEqual(t, r.Leftover.Size, limit, ext)
				assert.Greater(t, r.Gouge.Size, -0.001, "%s: the mill touches the wall", ext)
				if c.request.Shop.Defaults.Hold == "tabs" {
					assert.GreaterOrEqual(t, len(r.Tabs), 2*len(f.Plates), ext)
				}
			}
			again, files2, _, err := Make(t.Context(), c.request)
			require.NoError(t, err)
			assert.Equal(t, f.ID, again.ID)
			assert.Equal(t, files, files2, "the same input gives the same bytes")
		})
	}
}

func TestIDs(t *testing.T) {
	s, c := startedShop(t, "mm")
	r := Request{Shop: s, Kind: "block"}
	r.Joint.Cutter = c
	for _, tt := range []struct {
		want  string
		stock Measure
		land  float64
		kind  string
		from  string
	}{
		{"ridge-lock-19mm-block", Measure{19, "mm"}, 0, "block", ""},
		{"ridge-lock-0.75in-gauge-pin", Measure{19.05, "in"}, 0, "gauge", ""},
		{"ridge-lock-0.75in-gauge-cutter", Measure{0.75 * 25.4, "in"}, 0, "gauge", "cutter"},
		{"ridge-lock-18.7mm-block-land0.5mm", Measure{18.7, "mm"}, 0.5, "block", ""},
	} {
		r.Stock, r.Joint.Stock, r.Joint.Land, r.Kind, r.From = tt.stock, tt.stock.MM, tt.land, tt.kind, tt.from
		assert.Equal(t, tt.want, r.ID())
	}
}

// An inch shop and a mm shop with the same sizes give the same moves.
func TestUnitsChangeNoMove(t *testing.T) {
	s, c := startedShop(t, "mm")
	inch := *s
	inch.Units = "in"
	r := Request{Shop: s, Kind: "block", Stock: Measure{19.05, "mm"}}
	r.Joint.Cutter, r.Joint.Stock = c, 19.05
	a, _, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	r.Shop, r.Stock.Unit = &inch, "in"
	b, _, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	assert.Equal(t, a.Milling.Moves, b.Milling.Moves)
}

// A block's OUTLINE in the drawing holds the cutter's own edge at the setting.
func TestOutlineHoldsTheCutter(t *testing.T) {
	for _, c := range fixtures(t) {
		if c.request.Kind != "block" {
			continue
		}
		f, err := design(c.request)
		require.NoError(t, err)
		p := f.Plates[0]
		cut := f.Pass.CutLine.Move(geom.Shift(f.At[0][0], f.At[0][1]))
		d, at := geom.Farthest(cut, p.Outline, 1e-9)
		assert.Less(t, d, geom.Tol, "%s at %v", c.name, at)
		for i, k := range p.Kept {
			d, at := geom.Farthest(k, p.Wall, 1e-9)
			assert.Less(t, d, geom.Tol, "%s %s at %v", c.name, p.Seats[i].Name, at)
			assert.GreaterOrEqual(t, k.Length(), plate.MinSeat-geom.Tol)
		}
	}
}

// Plates lie on the sheet by whole steps and keep their distance.
func TestLayout(t *testing.T) {
	for _, c := range fixtures(t) {
		f, err := design(c.request)
		require.NoError(t, err)
		for _, at := range f.At {
			for _, v := range at {
				assert.InDelta(t, math.Round(v/step), v/step, 1e-6)
			}
		}
		for i := range f.Plates {
			b := f.Plates[i].Wall.Bound()
			assert.GreaterOrEqual(t, math.Min(b.Min[0], b.Min[1]), f.Diameter)
			for _, o := range f.Plates[i+1:] {
				assert.False(t, b.Pad(f.Diameter).Intersects(o.Wall.Bound()))
			}
		}
	}
}

func TestMakeRefuses(t *testing.T) {
	s, c := startedShop(t, "mm")
	for _, tt := range []struct {
		name, want string
		change     func(*Request)
	}{
		{"stock too thin", "12", func(r *Request) { r.Joint.Stock, r.Stock.MM = 12, 12 }},
		{"stock too thick", "31", func(r *Request) { r.Joint.Stock, r.Stock.MM = 31, 31 }},
		{"kind", "unknown fixture", func(r *Request) { r.Kind = "chair" }},
		{"post", "unknown post", func(r *Request) { r.Posts = []string{"pdf"} }},
		{"sheet", `sheet "oak" is not in the shop`, func(r *Request) { r.Sheet = "oak" }},
		{"mill", "no end mill of 4 mm", func(r *Request) { r.Mill = 4 }},
		{"mill too big", "the largest that would do", func(r *Request) { r.Mill = 6 }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := Request{Shop: s, Kind: "block", Stock: Measure{19, "mm"}}
			r.Joint.Cutter, r.Joint.Stock = c, 19
			tt.change(&r)
			_, files, _, err := Make(t.Context(), r)
			assert.ErrorContains(t, err, tt.want)
			assert.Nil(t, files)
		})
	}
}

// A sheet thinner than the shop's tabs are high is held by lower ones, and said so.
func TestThinSheetsKeepTheirTabs(t *testing.T) {
	for _, thick := range []float64{0.5, 1, 1.2, 1.4} {
		s, c := startedShop(t, "mm")
		s.Sheets[0].Measured = thick
		r := Request{Shop: s, Kind: "gauge", Stock: Measure{19, "mm"}}
		r.Joint.Cutter, r.Joint.Stock = c, 19
		f, _, reports, err := Make(t.Context(), r)
		require.NoError(t, err)
		require.Len(t, reports["ngc"].Tabs, 2)
		require.Contains(t, strings.Join(f.Hints, "\n"), "the sheet is thin")
		low := thick
		for _, m := range f.Milling.Moves {
			if m.Cuts() && m.From[2] == m.To[2] && m.To[2] > 0 {
				low = math.Min(low, m.To[2])
			}
		}
		require.InDelta(t, 0.8*thick, low, 1e-9, "over the tabs")
	}
}

func TestMakeStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	c := fixtures(t)[0]
	_, files, _, err := Make(ctx, c.request)
	assert.ErrorIs(t, err, context.Canceled)
	assert.Nil(t, files)
}

// What does not pass its proof is not written, and the failure names the move.
func TestUnprovedIsNotWritten(t *testing.T) {
	f, err := design(fixtures(t)[0].request)
	require.NoError(t, err)
	var w Writer
	for _, w = range Writers() {
		if w.Ext == "ngc" {
			break
		}
	}
	for i := range f.Milling.Moves {
		m := &f.Milling.Moves[i]
		if m.Op == gcode.Line && m.To[2] < 0 && m.From[2] < 0 && m.From != m.To {
			m.To[0] += 0.5
			f.Milling.Moves[i+1].From[0] += 0.5
			break
		}
	}
	text, _, err := write(w, f)
	var u *Unproved
	require.ErrorAs(t, err, &u)
	assert.Nil(t, text)
	assert.Positive(t, u.Findings[0].Line)
}

func BenchmarkMakeBlock(b *testing.B) {
	r := fixtures(b)[0].request
	for b.Loop() {
		if _, _, _, err := Make(b.Context(), r); err != nil {
			b.Fatal(err)
		}
	}
}

// Every kind, every writer, every proof: what a batch costs on one core.
func BenchmarkMakeEveryKind(b *testing.B) {
	s, c := startedShop(b, "mm")
	for _, kind := range Kinds() {
		b.Run(kind, func(b *testing.B) {
			r := Request{Shop: s, Kind: kind, Stock: Measure{19, "mm"}, Width: StripWidth, Version: "test"}
			r.Joint.Cutter, r.Joint.Stock = c, 19
			for b.Loop() {
				_, _, _, err := Make(b.Context(), r)
				require.NoError(b, err)
			}
		})
	}
}

// A drawing that has lost or moved anything on any layer does not pass its proof.
func TestDrawingsAreComparedLayerByLayer(t *testing.T) {
	f, files, _, err := Make(t.Context(), fixtures(t)[0].request)
	require.NoError(t, err)
	layers := 0
	for _, w := range Writers() {
		if w.Post != "dxf" && w.Post != "dxf-r12" {
			continue
		}
		version := map[string]dxf.Version{"dxf": dxf.R2000, "dxf-r12": dxf.R12}[w.Post]
		require.NoError(t, f.proveDrawing(w, files[w.Ext]))
		for i := range dxf.New().Layers {
			for _, spoil := range []func(l *dxf.Layer){
				func(l *dxf.Layer) {
					if len(l.Paths) > 0 {
						l.Paths = l.Paths[1:]
					} else {
						l.Circles = l.Circles[1:]
					}
				},
				func(l *dxf.Layer) {
					if len(l.Paths) > 0 {
						p := &l.Paths[0]
						p.V = slices.Clone(p.V)
						p.V[0].Point[0] += 1e-5
						p.V[0].Point[1] += 1e-5
					} else {
						l.Circles[0].Radius += 1e-5
					}
				},
			} {
				d, err := drawing(f)
				require.NoError(t, err)
				l := d.Layers[i]
				if len(l.Paths)+len(l.Circles) == 0 {
					continue
				}
				layers++
				spoil(l)
				var b bytes.Buffer
				require.NoError(t, dxf.Write(&b, d, version))
				require.Error(t, f.proveDrawing(w, b.Bytes()), l.Name)
			}
		}
	}
	require.GreaterOrEqual(t, layers, 2*2*7)
}
