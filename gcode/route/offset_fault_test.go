package route

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode/proof"
	"blockwright/geom"
)

// offsetFaults are ways in which an offset could be wrong. Each changes a copy.
var offsetFaults = []struct {
	name string
	of   func(r geom.Region, d float64, from geom.Region) geom.Region
}{
	{"shifted 0.03 in x", func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r.Move(geom.Shift(0.03, 0)) }},
	{"shifted -0.03 in y", func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r.Move(geom.Shift(0, -0.03)) }},
	{"shifted 5", func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r.Move(geom.Shift(5, 0)) }},
	{"empty", func(geom.Region, float64, geom.Region) geom.Region { return nil }},
	{"first loop missing", func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r[min(1, len(r)):] }},
	{"last loop missing", func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r[:max(0, len(r)-1)] }},
	{"the region itself", func(_ geom.Region, _ float64, from geom.Region) geom.Region { return from }},
	{"0.03 too far", func(r geom.Region, d float64, from geom.Region) geom.Region { return truly(from, d+0.03) }},
	{"0.03 too near", func(r geom.Region, d float64, from geom.Region) geom.Region { return truly(from, d-0.03) }},
	{"to the other side", func(_ geom.Region, d float64, from geom.Region) geom.Region { return truly(from, -d) }},
	{"turned round", func(r geom.Region, _ float64, _ geom.Region) geom.Region {
		for i := range r {
			r[i] = r[i].Reverse()
		}
		return r
	}},
	{"a loop twice", func(r geom.Region, _ float64, _ geom.Region) geom.Region { return append(r, r[:min(1, len(r))]...) }},
	{"a loop across the part", func(r geom.Region, _ float64, from geom.Region) geom.Region {
		c := from.Bound().Center()
		return append(r, geom.Circle(c, 9))
	}},
	{"an arc made a line", func(r geom.Region, _ float64, _ geom.Region) geom.Region {
		for _, p := range r {
			for i := range p.V {
				if p.V[i].Bulge != 0 {
					p.V[i].Bulge = 0
					return r
				}
			}
		}
		return r
	}},
}

// pointOff is a fault of one vertex, the n-th of all loops.
func pointOff(n int, dx, dy float64) func(geom.Region, float64, geom.Region) geom.Region {
	return func(r geom.Region, _ float64, _ geom.Region) geom.Region {
		for _, p := range r {
			if n < len(p.V) {
				p.V[n].Point = orb.Point{p.V[n].Point[0] + dx, p.V[n].Point[1] + dy}
				return r
			}
			n -= len(p.V)
		}
		return r
	}
}

func truly(r geom.Region, d float64) geom.Region {
	out, err := r.Offset(d)
	if err != nil {
		return nil
	}
	return out
}

// copied is a region that may be changed.
func copied(r geom.Region) geom.Region {
	out := make(geom.Region, len(r))
	for i, p := range r {
		out[i] = geom.Path{V: append([]geom.Vertex(nil), p.V...), Closed: p.Closed}
	}
	return out
}

// faulty makes the n-th offset of a plan wrong, or every one if n is negative. It
// counts them, and tells what it made different.
func faulty(t *testing.T, n int, spoil func(geom.Region, float64, geom.Region) geom.Region) (asked *int) {
	t.Helper()
	asked = new(int)
	offset = func(r geom.Region, d float64) (geom.Region, error) {
		out, err := r.Offset(d)
		if err == nil && (n < 0 || n == *asked) {
			out = spoil(copied(out), d, copied(r))
		}
		*asked++
		return out, err
	}
	return asked
}

// held is the proof's report of a plan, held to what its tool states.
func held(p *Program, jobs []Job, t *Tool) proof.Report {
	part := proof.Part{Sheet: t.Sheet, Thick: jobs[0].Thick, Top: jobs[0].Thick, Rules: proof.House()}
	for _, j := range jobs {
		part.Wall = append(part.Wall, j.Wall...)
		part.Drill = append(part.Drill, j.Drill...)
		part.Keep = append(part.Keep, j.Keep...)
		for _, k := range j.Pockets {
			part.Pockets = append(part.Pockets, proof.Pocket(k))
		}
	}
	r := &part.Rules
	r.Through, r.Safe, r.Ramp = t.Through, t.SafeZ, t.RampAngle*math.Pi/180
	r.Step, r.Tab, r.TabHigh, r.Skin = t.StepDown, t.TabWidth, t.TabHeight, t.Skin
	r.Feed, r.Descend = t.Feed, t.Plunge
	switch t.Hold {
	case Screws:
		r.Hold = proof.ByScrews
	case Skin:
		r.Hold = proof.BySkin
	}
	return proof.Hold(p.Moves, t.Diameter, part)
}

// A fault of the offset cannot reach a program: whatever one offset of a plan is
// changed into, the plan is refused, or the proof finds the move, or the program is
// what it was, or a simulation that asks only for distances finds it right all the same.
func TestFaultOfTheOffsetIsRefused(t *testing.T) {
	t.Cleanup(func() { offset = geom.Region.Offset })
	twoPlates := cutPlate(t, 3.175/2)
	twoPlates.Name = "second"
	m := geom.Shift(0, 70)
	twoPlates.Wall, twoPlates.Keep, twoPlates.Drill = twoPlates.Wall.Move(m), geom.MoveAll(twoPlates.Keep, m), geom.MoveAll(twoPlates.Drill, m)
	for _, c := range []struct {
		name string
		jobs []Job
		hold string
		thin int // of the offsets, and of the right programs simulated, one in so many
	}{
		{"block", []Job{cutPlate(t, 3.175/2)}, Tabs, 1},
		{"window", []Job{window()}, Screws, 2},
		{"window in a skin", []Job{window()}, Skin, 1},
		{"pockets", []Job{pocketed()}, Tabs, 5},
		{"two plates", []Job{cutPlate(t, 3.175/2), twoPlates}, Tabs, 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			tool := mill(3.175)
			tool.Hold, tool.Overtravel = c.hold, 2
			tool.Sheet = orb.Bound{Max: orb.Point{300, 200}}
			asked := faulty(t, math.MaxInt, nil)
			good, err := Plan(c.jobs, tool)
			require.NoError(t, err)
			require.Empty(t, held(good, c.jobs, &tool).Findings)
			n := *asked
			refused, found, harmless, simulated, reasons := 0, 0, 0, 0, map[string]int{}
			try := func(name string, k int, spoil func(geom.Region, float64, geom.Region) geom.Region) {
				what := fmt.Sprintf("offset %d of %d %s", k+1, n, name)
				faulty(t, k, spoil)
				p, err := Plan(c.jobs, tool)
				if err != nil {
					require.Contains(t, err.Error(), "route: ", what)
					refused++
					return
				}
				if fs := held(p, c.jobs, &tool).Findings; len(fs) > 0 {
					found++
					reasons[fs[0].Code]++
					named := false
					for _, f := range fs {
						named = named || strings.HasPrefix(f.Text, "move ")
					}
					assert.True(t, named, "%s: no move is named: %v", what, fs)
					return
				}
				if harmless++; harmless%c.thin != 0 || slices.Equal(p.Moves, good.Moves) {
					return
				}
				simulated++
				s := newSim(p, c.jobs, tool)
				s.tol = 0.0005
				assert.Empty(t, s.run(), what)
				bottom, tabs := -tool.Through, 0
				if c.hold == Skin {
					bottom = tool.Skin
				}
				if c.hold == Tabs {
					tabs = tool.Tabs
				}
				for i := range c.jobs {
					assert.Len(t, s.left(i, bottom, 0.0005, 0.1), tabs, what)
					if len(c.jobs[i].Pockets) > 0 {
						s.cleared(t, i, grid(7))
					}
				}
			}
			for _, f := range offsetFaults {
				try("every one "+f.name, -1, f.of)
				for k := 0; k < n; k += c.thin {
					try(f.name, k, f.of)
				}
			}
			for k := 0; k < n; k += c.thin {
				for v := 0; v < 40; v += 7 {
					try(fmt.Sprintf("with vertex %d off", v), k, pointOff(v, 0.02, -0.0224))
				}
			}
			var codes []string
			for code, times := range reasons {
				codes = append(codes, fmt.Sprintf("%s ×%d", code, times))
			}
			sort.Strings(codes)
			t.Logf("%d offsets: %d refused by the plan, %d by the proof (%s), %d right all the same, %d of them simulated", n, refused, found, strings.Join(codes, ", "), harmless, simulated)
			assert.Positive(t, found)
		})
	}
}
