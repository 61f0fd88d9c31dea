package posts

import (
	"errors"
	"math"

	"github.com/paulmach/orb"

	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
)

// step is the grid in mm on which plates are moved over the sheet: fine enough
// for any machine, coarse enough that coordinates stay short.
const step = 0.001

// SheetTooSmall is the error of parts that do not fit the sheet, laid out in rows.
type SheetTooSmall struct {
	Sheet         shop.Sheet
	Width, Height float64 // mm that they need at least
	Turned        bool    // the same sheet turned by a quarter would do
}

// Message is the error as a sentence for any unit.
func (e *SheetTooSmall) Message() joint.Message {
	if e.Turned {
		return joint.Saying("sheet \"%s\" is %s × %s; its parts need at least %s × %s: turn it by a quarter, and enter it so (width %s, height %s)",
			e.Sheet.Name, e.Sheet.Width, e.Sheet.Height, e.Width, e.Height, e.Sheet.Height, e.Sheet.Width)
	}
	return joint.Saying("sheet \"%s\" is %s × %s; its parts need at least %s × %s: take a larger one (--sheet)",
		e.Sheet.Name, e.Sheet.Width, e.Sheet.Height, e.Width, e.Height)
}

func (e *SheetTooSmall) Error() string { return e.Message().String() }

// lay finds the plates' places on the sheet, in rows from the lower left: where
// their origins come to lie. kerf is the widest groove in mm that is cut round a
// plate. Between two plates two kerfs and 3 mm of sheet stay; to the sheet's edge
// one kerf and 5 mm, for clamps and for what is squared off.
func lay(cuts []plate.Cut, sheet shop.Sheet, kerf float64) ([]orb.Point, error) {
	at, err := layOn(cuts, sheet, kerf)
	if small := (*SheetTooSmall)(nil); errors.As(err, &small) {
		turned := sheet
		turned.Width, turned.Height = sheet.Height, sheet.Width
		_, err := layOn(cuts, turned, kerf)
		small.Turned = err == nil
	}
	return at, err
}

func layOn(cuts []plate.Cut, sheet shop.Sheet, kerf float64) ([]orb.Point, error) {
	edge, gap := math.Ceil(kerf+5), math.Ceil(2*kerf+3)
	var out []orb.Point
	x, y, row := edge, edge, 0.0
	for _, c := range cuts {
		b := c.Wall.Bound().Union(c.Outline.Bound())
		w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
		if x+w+edge > sheet.Width && x > edge {
			x, y, row = edge, y+row+gap, 0
		}
		if x+w+edge > sheet.Width || y+h+edge > sheet.Height {
			return nil, &SheetTooSmall{Sheet: sheet, Width: math.Ceil(x + w + edge), Height: math.Ceil(y + h + edge)}
		}
		out = append(out, orb.Point{math.Ceil((x-b.Min[0])/step) * step, math.Ceil((y-b.Min[1])/step) * step})
		x, row = x+w+gap, math.Max(row, h)
	}
	return out, nil
}
