package joint

import (
	"fmt"
	"math"
	"strconv"
)

// OutOfRange is the error of a stock that a cutter cannot join, with both limits
// of the geometric range and of the usable one, mm. A range whose first limit is
// above its second is empty: the cutter joins no stock at all.
type OutOfRange struct {
	Cutter        string // its handle
	Joint         string
	Stock         float64
	Range, Usable [2]float64
}

func (e *OutOfRange) Error() string {
	if e.Range[0] > e.Range[1] {
		return fmt.Sprintf("cutter %q makes no %s: its lock wants stock of at least %s mm and its edge reaches no farther than %s mm",
			e.Cutter, e.Joint, number(e.Range[0]), number(e.Range[1]))
	}
	return fmt.Sprintf("stock %s mm: outside what cutter %q can join; want %s to %s mm (usable %s to %s mm)",
		number(e.Stock), e.Cutter, number(e.Range[0]), number(e.Range[1]), number(e.Usable[0]), number(e.Usable[1]))
}

// BadRequest is the error of a request that makes no sense whatever the cutter.
type BadRequest struct {
	Key  string // stock, other, land, skim, web, cutter, with
	Have string // what is there
	Want string // what is wanted
}

func (e *BadRequest) Error() string {
	return fmt.Sprintf("%s: %s; want %s", e.Key, e.Have, e.Want)
}

// number is v to a thousandth, without trailing zeros.
func number(v float64) string {
	return strconv.FormatFloat(round(v, 1e3), 'f', -1, 64)
}

func round(v, per float64) float64 { return math.Round(v*per) / per }
