package plate

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// box is a rectangle in plate coordinates.
type box struct{ x0, y0, x1, y1 float64 }

const (
	tallest  = 5.0 // mm, height of letters where there is room
	smallest = 2.5 // mm, below it an engraved letter closes up
	leading  = 1.6 // line pitch in letter heights
)

// mark engraves the plate's mark in the box, as large as fits up to 5 mm, along
// X or, upended, along Y read from the right. Where the whole text does not fit
// its first line goes, the cutter's name, then lines from its end; where nothing
// fits the plate stays unmarked and is to be labelled by hand.
func (p *Plate) mark(b box, upended bool) {
	w, h := b.x1-b.x0, b.y1-b.y0
	if upended {
		w, h = h, w
	}
	all := strings.Split(p.Mark, "\n")
	tries := [][]string{all}
	for n := len(all); n > 1; n-- {
		tries = append(tries, all[1:n])
	}
	tries = append(tries, all[:1])
	for _, lines := range tries {
		size := tallest
		size = math.Min(size, h/(1+leading*float64(len(lines)-1)))
		for _, l := range lines {
			if lw := LettersWidth(l, 1); lw > 0 {
				size = math.Min(size, w/lw)
			}
		}
		if size < smallest {
			continue
		}
		p.Mark = strings.Join(lines, "\n")
		place := geom.Shift(b.x0, b.y0)
		if upended {
			place = geom.Turn(math.Pi/2, orb.Point{}).Then(geom.Shift(b.x1, b.y0))
		}
		block := size * (1 + leading*float64(len(lines)-1))
		for i, l := range lines {
			y := (h+block)/2 - size - float64(i)*leading*size
			strokes, _ := Letters(l, orb.Point{0, y}, size)
			p.Engrave = append(p.Engrave, geom.MoveAll(strokes, place)...)
		}
		return
	}
	p.Mark = ""
}
