package posts

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
)

// Thin mills and thin passes give programs that pass their proof: the finishing
// pass takes no more off a wall than the mill can stand, and a bore's helix no
// thicker layer than the step-down.
func TestThinMillsAndPasses(t *testing.T) {
	for _, d := range []float64{0.5, 0.8, 1, 1.5, 3.175} {
		for _, step := range []float64{1.5, 0.3, 0.25, 0.1} {
			s, c := startedShop(t, "mm")
			s.Mills[0].Diameter, s.Sheets[0].StepDown = d, step
			r := Request{Shop: s, Joint: joint.Request{Cutter: c, Stock: 19}, Stock: Measure{19, "mm"}, Kind: "block", Mill: d, Version: "test"}
			f, _, reports, err := Make(t.Context(), r)
			require.NoError(t, err, "mill %g, step-down %g", d, step)
			require.Equal(t, d, f.Diameter)
			for ext, p := range reports {
				assert.Empty(t, p.Findings, ext)
			}
		}
	}
}

// A feed of no size is refused with what it comes of.
func TestFeedOfNoSize(t *testing.T) {
	s, c := startedShop(t, "mm")
	s.Machine.SpindleLow, s.Machine.SpindleHigh = 1, 10
	r := Request{Shop: s, Joint: joint.Request{Cutter: c, Stock: 19}, Stock: Measure{19, "mm"}, Kind: "gauge", Version: "test"}
	_, _, _, err := Make(t.Context(), r)
	require.ErrorContains(t, err, `feed 0.5 mm/min, of 10 rpm and 2 flutes with sheet "birch-6"'s chip load 0.05 mm and the feed factor 0.5; want at least 1`)
}

// Two reliefs that meet leave a crumb between them that falls off: it is no part
// of the wall, and no tabs are wanted for it.
func TestNoCrumbsBetweenReliefs(t *testing.T) {
	s, c := startedShop(t, "in")
	s.Sheets[0].Measured = 3
	var v []geom.Vertex
	half := [][2]float64{{30, 0}, {22, 8}, {23.96875, 8.25}, {23.96875, 11.8}}
	for i := range half {
		v = append(v, geom.V(half[i][0], half[i][1]))
	}
	for i := range half {
		q := half[len(half)-1-i]
		v = append(v, geom.V(36-q[0], 24-q[1]))
	}
	lock := *c
	lock.Profile, lock.Body = geom.Path{V: v}, geom.Path{}
	for _, mm := range []float64{14, 15, 16, 18, 20} {
		r := Request{Shop: s, Joint: joint.Request{Cutter: &lock, Stock: mm}, Stock: Measure{mm, "mm"}, Kind: "coupon", Version: "test"}
		f, _, _, err := Make(t.Context(), r)
		require.NoError(t, err, fmt.Sprint(mm))
		for _, p := range f.Fitted {
			assert.Len(t, p.Wall, len(p.Outline))
		}
	}
}

// A sampled curve of hundreds of edges that no mill can cut is refused in
// reasonable time: what does not depend on the mill is worked out once.
func TestSampledCurveInTime(t *testing.T) {
	s, c := startedShop(t, "mm")
	rc, hc, lock, high := 25.28, 10.32, 4.0, 2.0
	var v []geom.Vertex
	v = append(v, geom.V(rc+hc, 0), geom.V(rc+lock, hc-lock))
	const n = 200
	for i := 1; i < 2*n; i++ {
		u := lock * (float64(i)/n - 1)
		v = append(v, geom.V(rc-u+high*math.Sin(3*math.Pi*u/lock), hc+u))
	}
	v = append(v, geom.V(rc-lock, hc+lock), geom.V(rc-hc, 2*hc))
	sine := *c
	sine.Profile, sine.Body = geom.Path{V: v}, geom.Path{}
	start := time.Now()
	r := Request{Shop: s, Joint: joint.Request{Cutter: &sine, Stock: 12}, Stock: Measure{12, "mm"}, Kind: "coupon", Sheet: "birch-9", Version: "test"}
	_, _, _, err := Make(t.Context(), r)
	var big *plate.TooBig
	require.ErrorAs(t, err, &big)
	require.Less(t, time.Since(start), 20*time.Second) // minutes, when done again for each mill tried
}
