package main

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"blockwright/jig/shelf"
	"blockwright/jig/source"
	"blockwright/posts"
)

func newShelfCmd(s *streams) *cobra.Command {
	return group(&cobra.Command{
		Use:   "shelf",
		Short: "Look after the fixtures that were made",
		Long: `The shelf is the folder fixtures of the shop. Each fixture is a folder with its
programs and drawings and a fixture.toml, which says what it was made from. A
fixture is

  whole    nothing is wrong
  stale    its cutter's file or the shop's is no longer what it was made from:
           'blockwright make' makes it anew
  broken   a file is missing, was changed, or does not pass its proof:
           do not mill it; 'blockwright make' makes it anew
  retired  no longer in use`,
	}, newShelfListCmd(s), newShelfShowCmd(s), newShelfVerifyCmd(s), newShelfRecordCmd(s), newShelfRetireCmd(s), newShelfPageCmd(s))
}

// shelfStatus is the end of the help of commands that only read.
const shelfStatus = `
Exit status is 0 when it was done, 1 for a fault in the shop's file, 3 for a wrong
command line and 4 if the shop or a fixture is missing or cannot be read.`

// shelfFilter are the flags that choose fixtures.
type shelfFilter struct {
	cutters, kinds wordsFlag
	stock          lengthsFlag
	stale          bool
}

func (f *shelfFilter) add(cmd *cobra.Command) {
	f.stock.sign = positive
	fl := cmd.Flags()
	fl.Var(&f.cutters, "cutter", "only those of these cutters, by `handle`")
	fl.Var(&f.stock, "stock", "only those for boards of these thicknesses")
	fl.Var(&f.kinds, "kind", "only those of these kinds")
	fl.BoolVar(&f.stale, "stale", false, "only those whose inputs changed")
	cmd.PreRunE = func(*cobra.Command, []string) error {
		for _, k := range f.kinds.items {
			if !slices.Contains(posts.Kinds(), k) {
				return fmt.Errorf("flag --kind: %q; want %s", k, source.Choice(posts.Kinds()))
			}
		}
		return nil
	}
}

// some tells whether anything is filtered.
func (f *shelfFilter) some() bool {
	return f.stale || len(f.cutters.items)+len(f.kinds.items)+len(f.stock.words.items) > 0
}

// takes tells whether the fixture is one of those asked for. One that cannot be read
// may be of any cutter, kind and stock, so that no filter hides it; stale it is not.
func (f *shelfFilter) takes(st shelf.Status, units string) bool {
	if !f.some() {
		return true
	}
	if f.stale && st.State != shelf.Stale {
		return false
	}
	r := st.Record
	if r == nil {
		return true
	}
	if c := f.cutters.items; len(c) > 0 && !slices.Contains(c, r.Inputs.Cutter) && !slices.Contains(c, r.Inputs.With) {
		return false
	}
	if k := f.kinds.items; len(k) > 0 && !slices.Contains(k, r.Inputs.Kind) {
		return false
	}
	t := f.stock.mm(units)
	return len(t) == 0 || slices.ContainsFunc(t, func(mm float64) bool { return math.Abs(mm-r.Inputs.Stock) < 0.0005 })
}

// A shelfItem is a fixture on the shelf as JSON. What is not known of one that
// cannot be read is null.
type shelfItem struct {
	ID        string          `json:"id"`
	Kind      *string         `json:"kind"`
	Cutter    *string         `json:"cutter"`
	With      string          `json:"with,omitempty"`
	Stock     *float64        `json:"stock_mm"`
	State     shelf.State     `json:"state"`
	Why       string          `json:"why"`
	Title     string          `json:"title,omitempty"`
	Height    *float64        `json:"height_mm"`
	Fence     *float64        `json:"fence_mm"`
	Corrected *correctionView `json:"corrected,omitempty"`
	Measured  *measuredView   `json:"measured"` // the newest
}

// A measuredView is what was measured with a fixture.
type measuredView struct {
	Date  string   `json:"date"`
	Flip  *float64 `json:"flip_mm"`
	Proud string   `json:"proud,omitempty"`
	Tip   *float64 `json:"tip_mm"` // shorter, or negative a land
}

func viewMeasured(x shelf.Reading) *measuredView {
	v := &measuredView{Date: x.Date, Proud: x.Proud}
	if x.Proud != "" {
		v.Flip = &x.Flip
	}
	if x.Tips {
		v.Tip = &x.Tip
	}
	return v
}

func viewShelved(st shelf.Status) shelfItem {
	v := shelfItem{ID: st.ID, State: st.State, Why: st.Because()}
	if r := st.Record; r != nil {
		v.Kind, v.Cutter, v.With, v.Stock = &r.Inputs.Kind, &r.Inputs.Cutter, r.Inputs.With, &r.Inputs.Stock
		v.Title, v.Height, v.Fence, v.Corrected = r.Title, ifKnown(r.Setting.Height, !r.Setting.HeightUnknown), ifKnown(r.Setting.Fence, !r.Setting.FenceUnknown), viewCorrection(r.Inputs.Applied)
		if x, ok := r.Last(); ok {
			v.Measured = viewMeasured(x)
		}
	}
	return v
}

// look judges fixtures on all cores and gives those that the filter takes, in order.
func (l *library) look(ctx context.Context, ids []string, f *shelfFilter, judge func(id string) shelf.Status) ([]shelf.Status, error) {
	defer l.KeepOpen()()
	var out []shelf.Status
	inOrder(ctx, ids, judge, func(_ int, st shelf.Status) bool {
		if f.takes(st, l.shop.Units) {
			out = append(out, st)
		}
		return true
	})
	return out, ctx.Err()
}
