package trace_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"blockwright/geom"
	"blockwright/jig/trace"
)

// hard is a scan with everything wrong with it that a scan may have.
func hard(seed uint64, dpi float64) (drawing, [2]float64) {
	rnd := rand.New(rand.NewPCG(seed, 77))
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	p, c := lock(rnd)
	thick := f(16, 24)
	q, centre := onBoard(p, c, thick, f(-0.4, 0.4))
	d := clean(q, thick, dpi, seed)
	d.length, d.margin = thick+f(9, 25), f(2.5, 6)
	d.tilt = f(-4, 4)
	d.blur = f(0.5, 1.6) * math.Max(1, dpi/900)
	d.noise = f(1, 9)
	if rnd.IntN(2) == 0 { // light board on black
		d.board, d.ground = f(140, 225), f(8, 50)
	} else {
		d.board, d.ground = f(50, 175), f(215, 245)
	}
	d.grain, d.pitch, d.fan = f(5, 40), f(0.6, 2.5), f(-30, 30)
	d.slope, d.bow = f(0, 0.15), f(0, 0.1)
	if rnd.IntN(2) == 0 {
		d.shadow, d.shadowWide = f(0.03, 0.2), f(0.6, 2.5)
	}
	d.dirt, d.hairs = rnd.IntN(60), rnd.IntN(4)
	if rnd.IntN(3) == 0 {
		d.chip = f(0.1, 0.7)
	}
	if rnd.IntN(2) == 0 {
		d.rough, d.roughLong = f(0.002, 0.02), f(0.2, 1.5)
	}
	d.gamma = rnd.IntN(4) == 0
	if d.offEdge = rnd.IntN(4) == 0; d.offEdge {
		d.length += d.margin + 8
	}
	d.right = rnd.IntN(2) == 0
	return d, [2]float64{centre[0], centre[1]}
}

// A score sums up traces of hard scans.
type score struct {
	n, refused         int
	centre, rms, most  int // within what was stated
	worstCentre, worst float64
	good               int          // as near as a clean scan ought to be
	stated, off        [2][]float64 // of the centre and of the profile
}

// String is the score in one line, with medians.
func (s *score) String() string {
	mid := func(v []float64) float64 {
		if len(v) == 0 {
			return 0
		}
		return slices.Sorted(slices.Values(v))[len(v)/2]
	}
	return fmt.Sprintf("%d scans: %d refused, %d good; stated centre holds in %d, profile RMS in %d, greatest in %d; worst centre %.4f, RMS %.4f; in the median centre stated %.4f, off %.4f, profile stated %.4f, off %.4f",
		s.n, s.refused, s.good, s.centre, s.rms, s.most, s.worstCentre, s.worst, mid(s.stated[0]), mid(s.off[0]), mid(s.stated[1]), mid(s.off[1]))
}

func (s *score) add(t *testing.T, d drawing, centre [2]float64, o tries) {
	t.Helper()
	r, err := trace.Trace([]*trace.Scan{open(t, o.file(t, d.pieces(o.pieces)))}, trace.Options{DPI: d.dpi, Joint: "lock-miter"})
	s.count(t, fmt.Sprintf("%v dpi, seed %d %s", d.dpi, d.seed, brief(d)), d.profile, centre, r, err, d.dpi)
}

// count counts a trace, and logs it if it is refused or not as good as it ought to be.
func (s *score) count(t *testing.T, what string, truth geom.Path, centre [2]float64, r *trace.Result, err error, dpi float64) {
	s.n++
	if err != nil {
		s.refused++
		if t != nil {
			t.Logf("%s: refused: %v", what, err)
		}
		return
	}
	rms, most := apart(truth, r.Profile)
	e := math.Hypot(r.Centre[0]-centre[0], r.Centre[1]-centre[1])
	k := 1200 / dpi
	for _, c := range []struct {
		in bool
		n  *int
	}{{e <= r.Sure.Centre, &s.centre}, {rms <= r.Sure.Profile, &s.rms}, {most <= r.Sure.Profile, &s.most}, {e < 0.02*k && rms < 0.03*k, &s.good}} {
		if c.in {
			*c.n++
		}
	}
	for i, v := range [2]float64{r.Sure.Centre, r.Sure.Profile} {
		s.stated[i], s.off[i] = append(s.stated[i], v), append(s.off[i], [2]float64{e, rms}[i])
	}
	s.worstCentre, s.worst = math.Max(s.worstCentre, e), math.Max(s.worst, rms)
	if t != nil && (e > r.Sure.Centre || rms > r.Sure.Profile || e > 0.02*k || rms > 0.03*k) {
		t.Logf("%s: centre off %+.4f %+.4f, sure %.4f; profile off rms %.4f most %.4f, sure %.4f; %d edges of %d, blur %.4f noise %.4f %q", what,
			r.Centre[0]-centre[0], r.Centre[1]-centre[1], r.Sure.Centre, rms, most, r.Sure.Profile, r.Profile.Edges(), truth.Edges(), r.Blur, r.Noise, r.Notes)
	}
}

// Scans with everything wrong that a scan may have are measured as well as is said, or
// refused; none gives a wrong answer with confidence. [tries] tells how to try more.
func TestHard(t *testing.T) {
	o := triesOf(t, 4)
	for _, dpi := range []int{600, 1200} {
		if o.skips(dpi) {
			continue
		}
		var s score
		for _, seed := range o.seeds {
			d, centre := hard(uint64(seed), float64(dpi))
			s.add(t, d, centre, o)
			if dpi == 1200 && o.few {
				break // they take time
			}
		}
		t.Logf("%v dpi, %s", dpi, &s)
		got := s.n - s.refused
		assert.LessOrEqual(t, s.refused, s.n/8+1)
		assert.Positive(t, got)
		assert.GreaterOrEqual(t, s.good, (3*got+3)/4, "what is right though it is called unsure counts here")
		assert.GreaterOrEqual(t, s.centre, got*9/10)
		assert.GreaterOrEqual(t, s.rms, got*9/10)
		assert.Less(t, s.worstCentre, 0.06*1200/float64(dpi))
		assert.Less(t, s.worst, 0.06*1200/float64(dpi))
	}
}

func brief(d drawing) string {
	return fmt.Sprintf("[%.0f/%.0f blur %.1f noise %.1f grain %.0f shadow %.2f/%.1f dirt %d hairs %d chip %.2f rough %.3f/%.1f gamma %v off %v tilt %.1f len %.0f T %.1f]", d.board, d.ground, d.blur, d.noise, d.grain, d.shadow, d.shadowWide, d.dirt, d.hairs, d.chip, d.rough, d.roughLong, d.gamma, d.offEdge, d.tilt, d.length, d.thick)
}

// A hair that lies level at the edge of the wood is no wedge of it: left out, the scan is
// measured.
func TestHairIsNoWedge(t *testing.T) {
	d, centre := hard(5051, 1200)
	var s score
	s.add(t, d, centre, triesOf(t, 1))
	assert.Zero(t, s.refused)
	assert.Equal(t, 1, s.good)
}
