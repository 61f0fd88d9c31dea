package posts

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
	"blockwright/posts/dxf"
)

// readAgain reads a program's text as somebody who has only the files does: by the
// head's statements and the drawing.
func readAgain(t testing.TB, name string, text, drawing []byte) ([]gcode.Move, proof.Report, []gcode.Finding) {
	t.Helper()
	d := gcode.RS274NGC()
	if strings.HasSuffix(name, ".nc") {
		d = gcode.Grbl()
	}
	p, found := gcode.Parse(name, text)
	head, _ := gcode.ParseHead(p)
	b := Readback{Program: p, Head: head, Dialect: d, Mill: head.Mill, Thick: head.Thickness, Drawing: drawing, File: "part.dxf"}
	if head.Zero == "table" {
		b.Top = head.Thickness
	}
	_, ran := p.Check(d, gcode.Setup{Top: b.Top, Mill: head.For == "milling"}, func(m *gcode.Move) { b.Moves = append(b.Moves, *m) })
	found = append(found, ran...)
	r, err := HoldReadback(b)
	require.NoError(t, err)
	return b.Moves, r, append(found, r.Findings...)
}

// A head may state narrower limits than ours, never wider ones.
func TestHeadsDoNotWidenLimits(t *testing.T) {
	wide := rulesOf(gcode.Head{Limits: []gcode.Limit{{Name: "through", Value: 7}, {Name: "ramp", Value: 90}, {Name: "safe", Value: -4}}})
	require.Equal(t, proof.House().Through, wide.Through)
	require.InDelta(t, proof.House().Ramp, wide.Ramp, 1e-7)
	require.Equal(t, proof.House().Near, wide.Safe)
	tight := rulesOf(gcode.Head{Limits: []gcode.Limit{{Name: "through", Value: 0.2}, {Name: "ramp", Value: 3}, {Name: "safe", Value: 9}}})
	require.Equal(t, 0.2, tight.Through)
	require.InDelta(t, 3*math.Pi/180, tight.Ramp, 1e-7)
	require.Equal(t, 9.0, tight.Safe)
}

// Every program of every fixture, read with its drawing alone, has the figures it
// was proved with, and no finding.
func TestReadbackNeedsNoShop(t *testing.T) {
	for _, c := range fixtures(t) {
		t.Run(c.name, func(t *testing.T) {
			_, files, reports, err := Make(t.Context(), c.request)
			require.NoError(t, err)
			for _, ext := range []string{"ngc", "nc", "engrave.ngc", "engrave.nc", "frame.ngc", "frame.nc"} {
				for _, drawing := range []string{"dxf", "r12.dxf"} {
					_, r, found := readAgain(t, ext, files[ext], files[drawing])
					require.Empty(t, found, ext)
					require.InDelta(t, reports[ext].Gouge.Size, r.Gouge.Size, 2e-5, ext)
					require.InDelta(t, reports[ext].Leftover.Size, r.Leftover.Size, 2e-5, ext)
					require.Len(t, r.Tabs, len(reports[ext].Tabs), ext)
				}
			}
		})
	}
}

var (
	wordInPlane = regexp.MustCompile(`([XYZIJ])(-?[0-9.]+)`)
	offsetWord  = regexp.MustCompile(`([IJ])(-?[0-9.]*[1-9][0-9.]*)`)
)

// mutate makes one small fault in a program's text and says which.
func mutate(rnd *rand.Rand, lines []string) (string, []string) {
	out := append([]string{}, lines...)
	number := func(line string, at []int, v float64) string {
		return line[:at[4]] + strconv.FormatFloat(v, 'f', 4, 64) + line[at[5]:]
	}
	cut := func(i int, re string) bool {
		was := out[i]
		out[i] = strings.TrimSpace(regexp.MustCompile(re).ReplaceAllString(was, ""))
		return out[i] != was
	}
	for {
		i := rnd.IntN(len(lines))
		line := lines[i]
		if line == "" || line[0] == '(' {
			continue
		}
		done := false
		kind := [...]string{"word", "word", "turn", "sign", "dropped", "swapped", "F lost", "S lost", "M3 lost"}[rnd.IntN(9)]
		switch kind {
		case "word":
			if all := wordInPlane.FindAllStringSubmatchIndex(line, -1); all != nil {
				at := all[rnd.IntN(len(all))]
				v, _ := strconv.ParseFloat(line[at[4]:at[5]], 64)
				out[i], done = number(line, at, v+0.003*float64(1-2*rnd.IntN(2))), true
			}
		case "turn":
			switch {
			case strings.HasPrefix(line, "G2 "):
				out[i], done = "G3"+line[2:], true
			case strings.HasPrefix(line, "G3 "):
				out[i], done = "G2"+line[2:], true
			}
		case "sign":
			if at := offsetWord.FindStringSubmatchIndex(line); at != nil {
				v, _ := strconv.ParseFloat(line[at[4]:at[5]], 64)
				out[i], done = number(line, at, -v), true
			}
		case "dropped":
			out, done = append(out[:i], out[i+1:]...), true
		case "swapped":
			if i+1 < len(lines) && lines[i+1] != "" && lines[i+1][0] != '(' && lines[i+1] != line {
				out[i], out[i+1], done = lines[i+1], line, true
			}
		case "F lost":
			done = cut(i, `F[0-9.]+`)
		case "S lost":
			done = cut(i, `S[0-9]+`)
		case "M3 lost":
			done = cut(i, `M3\b`)
		}
		if done {
			return fmt.Sprintf("line %d %q: %s", i+1, line, kind), out
		}
	}
}

// 300 small faults in programs of ours: each is reported, or the sheet it leaves is
// shown to be the same by dense sampling, which shares nothing with the proof.
func TestMutantsAreReportedOrHarmless(t *testing.T) {
	all := fixtures(t)
	reported := 0
	const each = 150
	for _, c := range []sample{all[0], all[1]} {
		f, files, _, err := Make(t.Context(), c.request)
		require.NoError(t, err)
		drawing, err := dxf.Read("part.dxf", files["dxf"])
		require.NoError(t, err)
		wall, err := drawing.Region("WALL", "part.dxf")
		require.NoError(t, err)
		for _, bore := range drawing.Layer("DRILL").All() {
			wall = append(wall, bore.Reverse()) // a hole in the plate
		}
		text := files["ngc"]
		ms, _, found := readAgain(t, "ngc", text, files["dxf"])
		require.Empty(t, found)
		good := newSwept(ms, f.Sheet.Thick())
		rnd := rand.New(rand.NewPCG(3, 14))
		lines := strings.Split(string(text), "\n")
		for range each {
			what, mutant := mutate(rnd, lines)
			ms, _, found := readAgain(t, "ngc", []byte(strings.Join(mutant, "\n")), files["dxf"])
			if len(found) > 0 {
				reported++
				continue
			}
			harm := newSwept(ms, f.Sheet.Thick()).harm(wall, good, f.Diameter/2)
			require.Empty(t, harm, "%s: %s", c.name, what)
		}
	}
	t.Logf("%d of %d reported, the others harmless", reported, 2*each)
	require.Greater(t, reported, each)
}

// swept is where a program's mill goes: points of its moves in the sheet, and the
// moves that are wholly through it.
type swept struct {
	in      map[gcode.Move][]orb.Point
	through map[[2]int][]orb.Point // by cells of 1 mm
	high    float64                // greatest feed in the sheet, mm/min
	fall    float64                // greatest feed down into it
	still   bool                   // fed in the sheet with the spindle off
	low     float64
}

func newSwept(ms []gcode.Move, top float64) *swept {
	s := &swept{in: map[gcode.Move][]orb.Point{}, through: map[[2]int][]orb.Point{}}
	for i := range ms {
		m := &ms[i]
		lo, _ := m.Bound()
		if !m.Moves() || lo[2] >= top-1e-3 {
			continue
		}
		step := 0.1
		if lo[2] <= 1e-6 {
			step = 0.02
		}
		n := int(m.Length()/step) + 1
		var points []orb.Point
		for k := 0; k <= n; k++ {
			p := m.At(float64(k) / float64(n))
			if p[2] >= top-1e-3 {
				continue
			}
			q := orb.Point{p[0], p[1]}
			points = append(points, q)
			s.low = min(s.low, p[2])
			if p[2] <= 1e-6 && m.Cuts() {
				c := [2]int{int(math.Floor(q[0])), int(math.Floor(q[1]))}
				s.through[c] = append(s.through[c], q)
			}
		}
		key := *m
		key.Block = 0
		s.in[key] = points
		if m.Cuts() {
			s.high = max(s.high, m.Feed)
			s.fall = max(s.fall, m.Feed*(m.From[2]-m.To[2])/m.Length())
			s.still = s.still || m.RPM == 0
		}
	}
	return s
}

// reached tells whether a through-cut comes within d of q.
func (s *swept) reached(q orb.Point, d float64) bool {
	x, y, n := int(math.Floor(q[0])), int(math.Floor(q[1])), int(d)+1
	for i := x - n; i <= x+n; i++ {
		for j := y - n; j <= y+n; j++ {
			for _, p := range s.through[[2]int{i, j}] {
				if math.Hypot(p[0]-q[0], p[1]-q[1]) <= d {
					return true
				}
			}
		}
	}
	return false
}

// harm says what the moves do that the good ones do not.
func (s *swept) harm(wall geom.Region, good *swept, r float64) string {
	for m, points := range s.in {
		if good.in[m] != nil {
			continue
		}
		for _, q := range points {
			if d := wall.SignedDist(q); r-d > 0.0006 {
				return fmt.Sprintf("the mill is %.4f in the part at %v", r-d, q)
			}
		}
	}
	// Chords of 0.02 mm and walls seen every 0.5 mm.
	for _, p := range wall {
		for at := 0.0; at < p.Length(); at += 0.5 {
			q := p.Point(p.AtLength(at))
			if !s.reached(q, r+0.0007) && good.reached(q, r+0.0007) {
				return fmt.Sprintf("wall at %v is left", q)
			}
		}
	}
	switch {
	case s.still:
		return "fed with the spindle off"
	case s.high > good.high*1.001:
		return "fed too fast"
	case s.fall > good.fall*1.001:
		return "fed down too fast"
	case s.low < good.low-0.0031:
		return "cuts too deep"
	}
	return ""
}
