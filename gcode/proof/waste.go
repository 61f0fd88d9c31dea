package proof

import (
	"bytes"
	"math"
	"sort"

	"github.com/paulmach/orb"
)

const (
	// chip is how much in mm of waste may stand beside the cuts: what is no wider than
	// twice that is a chip and no slug. Common practice, no source.
	chip = 0.5

	// finest is the side in mm of the squares in which loose waste is looked for. A
	// bridge narrower than a square holds nothing.
	finest = 0.5
)

// What the mill leaves of a square.
const (
	standing = iota
	cut
)

// A remains is the sheet's underside in squares, each judged by its middle, when the
// program has ended, and what of it hangs together.
//
// No square is larger than the mill's radius, so no way from square to neighbouring
// square crosses a kerf without a square that is cut: what is found to hang together
// does. What hangs together by less than a square's width may be taken for loose.
type remains struct {
	low    orb.Point // middle of the first square
	side   float64   // mm
	nx, ny int
	what   []uint8
	mark   []uint8 // a row of cut squares as wide as a disc
	runs   []lane  // of squares that stand, row by row
	rows   []int32 // runs[rows[j]:rows[j+1]] lie in row j
}

// A lane is a row's squares from..to-1 with a cut or the end of the row on both sides.
type lane struct {
	from, to int32
	row      int32
	piece    int32 // index of a lane that it hangs together with: itself, or one before it
}

// waste looks for pieces of the sheet that the cuts leave without a hold: neither
// part nor joined to a part or to the sheet around. A loose piece lies beside a
// running mill, which throws it or jams on it. What holds the parts is another
// question, see [holder.tabs].
func (h *holder) waste(t *trimmer) {
	r := &h.part.Rules
	if !r.Own || r.Loose || r.Hold == BySkin || len(t.through.c) == 0 {
		return
	}
	gone := t.through
	if len(h.part.Before) > 0 {
		cs, _ := h.throughCuts(h.before())
		gone = newField(append(cs, t.through.c...))
	}
	m := newRemains(gone.c, t.radius)
	if m == nil {
		h.findPart("the cuts are too long, or reach too far, to look for loose waste between them in squares of %.3g mm", min(finest, t.radius))
		return
	}
	m.join()
	holds := map[int32]bool{m.piece(0): true} // the sheet around
	for i := range t.s.loops {
		l := &t.s.loops[i]
		for k := l.from; k < l.to && !l.waste; k++ {
			m.beside(&t.s.all[k], func(run int32, q orb.Point) {
				if p := m.piece(run); !holds[p] && t.s.inside(q) {
					holds[p] = true
				}
			})
		}
	}
	worst, at := map[int32]float64{}, map[int32]orb.Point{}
	var loose []int32
	for i := range m.runs {
		p := m.piece(int32(i))
		if holds[p] {
			continue
		}
		if _, known := worst[p]; !known {
			loose = append(loose, p)
			worst[p] = 0
		}
		for x := m.runs[i].from; x < m.runs[i].to; x++ {
			q := m.middle(int(x), int(m.runs[i].row))
			if d, _ := gone.distance(q); d > worst[p] {
				worst[p], at[p] = d, q
			}
		}
	}
	for _, p := range loose {
		if worst[p] > t.radius+chip {
			h.find(h.moveAt(t, at[p]), Slug, "waste at %s is cut loose and not milled away", place(at[p]))
		}
	}
}

const (
	squaresMost = 36_000_000    // bounds the memory: a sheet of 3 m by 3 m
	marksMost   = 1_000_000_000 // bounds the time: squares that discs mark, each as often as it is met
	apart       = 0.4           // distance of discs on a way, in radii: they leave out 2 % of the radius beside it
)

// newRemains marks the squares that a mill of the radius cuts on the ways; nil where
// there are too many of them. The squares of the rim stand.
func newRemains(ways []curve, radius float64) *remains {
	box, length := ways[0].box, 0.0
	for i := range ways {
		box = join(box, ways[i].box)
		length += ways[i].l
	}
	m := &remains{side: min(finest, radius)}
	rim := radius + 2*m.side
	m.low = orb.Point{box.Min[0] - rim, box.Min[1] - rim}
	nx := math.Ceil((box.Max[0]-m.low[0]+rim)/m.side) + 1
	ny := math.Ceil((box.Max[1]-m.low[1]+rim)/m.side) + 1
	across := 2*radius/m.side + 1
	discs := length/(apart*radius) + 2*float64(len(ways))
	if !(nx*ny <= squaresMost) || !(discs*across*across <= marksMost) {
		return nil
	}
	m.nx, m.ny = int(nx), int(ny)
	m.what = make([]uint8, m.nx*m.ny)
	m.mark = bytes.Repeat([]byte{cut}, int(across)+1)
	for i := range ways {
		c := &ways[i]
		n := math.Ceil(c.l / (apart * radius))
		for k := 0.0; k <= n; k++ {
			m.disc(c.At(k/max(n, 1)), radius)
		}
	}
	return m
}

// disc marks the squares whose middle is no farther than radius from q.
func (m *remains) disc(q orb.Point, radius float64) {
	x, y := (q[0]-m.low[0])/m.side, (q[1]-m.low[1])/m.side
	r := radius / m.side
	for j, last := int(math.Ceil(y-r)), int(math.Floor(y+r)); j <= last; j++ {
		half := math.Sqrt(max(0, r*r-(float64(j)-y)*(float64(j)-y)))
		if from, to := int(math.Ceil(x-half)), int(math.Floor(x+half))+1; from < to {
			copy(m.what[j*m.nx+from:j*m.nx+to], m.mark)
		}
	}
}

// join finds the lanes of squares that stand, and which hang together.
func (m *remains) join() {
	last := 0 // first lane of the row before
	for j := range m.ny {
		m.rows = append(m.rows, int32(len(m.runs)))
		row := m.what[j*m.nx : (j+1)*m.nx]
		first := len(m.runs)
		for x := 0; x < m.nx; {
			from := bytes.IndexByte(row[x:], standing)
			if from < 0 {
				break
			}
			from += x
			if x = bytes.IndexByte(row[from:], cut); x < 0 {
				x = m.nx
			} else {
				x += from
			}
			n := int32(len(m.runs))
			m.runs = append(m.runs, lane{int32(from), int32(x), int32(j), n})
			for ; last < first && m.runs[last].to <= int32(from); last++ {
			}
			for k := last; k < first && m.runs[k].from < int32(x); k++ {
				a, b := m.piece(int32(k)), m.piece(n)
				m.runs[max(a, b)].piece = min(a, b)
			}
		}
		last = first
	}
	m.rows = append(m.rows, int32(len(m.runs)))
}

// piece is the first of the lanes that the i-th hangs together with.
func (m *remains) piece(i int32) int32 {
	for m.runs[i].piece != i {
		m.runs[i].piece = m.runs[m.runs[i].piece].piece
		i = m.runs[i].piece
	}
	return i
}

// beside shows the lanes on the left of a curve, each with the middle of one of its
// squares there.
func (m *remains) beside(c *curve, show func(run int32, q orb.Point)) {
	n := math.Ceil(c.l / m.side)
	was := int32(-1)
	for k := range int(n) {
		t := (float64(k) + 0.5) / n
		p, d := c.At(t), sub(c.At(min(1, t+0.5/n)), c.At(max(0, t-0.5/n)))
		l := math.Hypot(d[0], d[1])
		if l == 0 {
			continue
		}
		in := 1.5 * m.side / l
		x := int(math.Round((p[0] - d[1]*in - m.low[0]) / m.side))
		y := int(math.Round((p[1] + d[0]*in - m.low[1]) / m.side))
		if x < 0 || x >= m.nx || y < 0 || y >= m.ny || m.what[y*m.nx+x] != standing {
			continue
		}
		row := m.runs[m.rows[y]:m.rows[y+1]]
		i := m.rows[y] + int32(sort.Search(len(row), func(i int) bool { return row[i].to > int32(x) }))
		if i != was {
			was = i
			show(i, m.middle(x, y))
		}
	}
}

// middle of a square.
func (m *remains) middle(x, y int) orb.Point {
	return orb.Point{m.low[0] + m.side*float64(x), m.low[1] + m.side*float64(y)}
}
