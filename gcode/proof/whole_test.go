package proof_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
)

// A trade is one printed program with all that is needed to hold it.
type trade struct {
	name    string
	jobs    []route.Job
	tool    route.Tool
	dialect *gcode.Dialect
	inch    bool
}

// part is what the jobs leave, with the rules that fit the tool.
func (w *trade) part() proof.Part {
	p := proof.Part{Sheet: w.tool.Sheet, Thick: w.jobs[0].Thick, Top: w.jobs[0].Thick, Dialect: w.dialect, Rules: proof.House()}
	if w.tool.ZeroTop {
		p.Top = 0
	}
	for _, j := range w.jobs {
		p.Wall = append(p.Wall, j.Wall...)
		p.Drill = append(p.Drill, j.Drill...)
		p.Keep = append(p.Keep, j.Keep...)
		for _, k := range j.Pockets {
			p.Pockets = append(p.Pockets, proof.Pocket(k))
		}
	}
	r := &p.Rules
	if w.inch {
		r.Limit = 0.002
	}
	t := &w.tool
	r.Through, r.Safe, r.Ramp = t.Through, t.SafeZ, t.RampAngle*math.Pi/180
	r.Step, r.Tab, r.TabHigh, r.Skin = t.StepDown, t.TabWidth, t.TabHeight, t.Skin
	r.Feed, r.Descend, r.FeedLow = t.Feed, t.Plunge, t.Plunge
	r.RPMLow, r.RPMHigh, r.SpinUp = t.RPM, t.RPM, 3
	switch t.Hold {
	case route.Screws:
		r.Hold = proof.ByScrews
	case route.Skin:
		r.Hold = proof.BySkin
	}
	return p
}

// print plans and prints the program.
func (w *trade) print(t testing.TB) []byte {
	p, err := route.Plan(w.jobs, w.tool)
	require.NoError(t, err)
	zero := "table"
	if w.tool.ZeroTop {
		zero = "top"
	}
	head := gcode.Head{Inch: w.inch, Zero: zero, Thickness: w.jobs[0].Thick, Mill: w.tool.Diameter}
	var b bytes.Buffer
	require.NoError(t, gcode.Print(&b, w.dialect, gcode.Listing{
		Head: head.Comment(), Notes: p.Notes, Moves: p.Moves, Inch: w.inch, Dwell: 3,
	}))
	return b.Bytes()
}

// judge reads a program and holds it: every finding of reader, interpreter and
// proof.
func (w *trade) judge(text []byte) ([]gcode.Finding, proof.Report, []gcode.Move) {
	prog, found := gcode.Parse("program.ngc", text)
	part := w.part()
	part.Program = prog
	var ms []gcode.Move
	_, more := prog.Check(w.dialect, gcode.Setup{Top: part.Top, Mill: true}, func(m *gcode.Move) { ms = append(ms, *m) })
	found = append(found, more...)
	r := proof.Hold(ms, w.tool.Diameter, part)
	return append(found, r.Findings...), r, ms
}

func roughTool(d float64) route.Tool {
	t := route.Usual()
	t.Diameter, t.RPM, t.Feed, t.Plunge = d, 18000, 1200, 300
	t.Sheet = orb.Bound{Max: orb.Point{300, 200}}
	return t
}

// blockLike has what setup blocks have: a flank, a land, relieved corners, a
// window and a bore; two of its edges are seats.
func blockLike(x, y float64) route.Job {
	k := math.Tan(math.Pi / 8)
	p := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(20.5, 20), geom.V(89.5, 20), geom.V(90, 20.5), geom.B(90, 72, k), geom.V(82, 80),
		geom.V(40, 80), geom.V(39.5, 79.5), geom.V(39.5, 68), geom.B(39.5, 64.6, -1), geom.V(36.1, 64.6),
		geom.V(36.1, 70.2), geom.V(35.6, 70.7), geom.V(30, 70.7), geom.V(20, 60.7), geom.V(20, 20.5),
	}}
	j := route.Job{
		Wall:  geom.Region{p, rounded(50, 35, 75, 55, 3).Reverse()},
		Drill: []geom.Path{geom.Circle(orb.Point{30, 40}, 2.6)},
		Keep:  []geom.Path{p.Cut(0, 69), {V: []geom.Vertex{geom.V(20, 60.7), geom.V(20, 20.5)}}},
		Thick: 6, Allowance: 0.15, Climb: true,
	}
	m := geom.Shift(x, y)
	j.Wall, j.Drill, j.Keep = j.Wall.Move(m), geom.MoveAll(j.Drill, m), geom.MoveAll(j.Keep, m)
	return j
}

// trades are good programs of every sort that we write.
func trades() []*trade {
	var out []*trade
	for _, hold := range []string{route.Tabs, route.Screws, route.Skin} {
		for _, d := range []*gcode.Dialect{gcode.RS274NGC(), gcode.Grbl()} {
			for _, inch := range []bool{false, true} {
				t := roughTool(3.175)
				t.Hold, t.ZeroTop = hold, inch
				w := &trade{jobs: []route.Job{blockLike(0, 0), blockLike(100, 5)}, tool: t, dialect: d, inch: inch}
				w.jobs[1].Climb = false
				w.name = fmt.Sprintf("%s %s inch=%v", hold, d.Name, inch)
				out = append(out, w)
			}
		}
	}
	return out
}

func TestWholePrograms(t *testing.T) {
	for _, w := range trades() {
		t.Run(w.name, func(t *testing.T) {
			text := w.print(t)
			found, r, ms := w.judge(text)
			for i, f := range found {
				if i < 12 {
					t.Log(f)
				}
			}
			require.Empty(t, found)
			t.Logf("%d moves, gouge %.6f, leftover %.6f, %d tabs", len(ms), r.Gouge.Size, r.Leftover.Size, len(r.Tabs))
			limit := 0.0002
			if w.inch {
				limit = 0.0005
			}
			assert.InDelta(t, 0, r.Gouge.Size, limit)
			assert.InDelta(t, 0, r.Leftover.Size, limit)
			if w.tool.Hold == route.Tabs {
				assert.Len(t, r.Tabs, 4)
			} else {
				assert.Empty(t, r.Tabs)
			}
		})
	}
}
