package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"blockwright/jig/adjust"
	"blockwright/jig/joint"
	"blockwright/jig/shelf"
)

func newShelfRecordCmd(s *streams) *cobra.Command {
	flip, tip := lengthFlag{sign: notNegative}, lengthFlag{}
	proud := choiceFlag{words: []string{string(adjust.Turned), string(adjust.Second), string(adjust.First), string(adjust.Level)}}
	cmd := &cobra.Command{
		Use:   "record ID --flip S --proud turned|first|none | --tip S",
		Short: "Keep what a test cut with a fixture measured",
		Long: `Record keeps what was measured on boards that were cut at the setting of a block or
gauge: the step of a flip test and which piece stood proud, or the tip of a board
cut flat, shorter by S, or with a land of S left on it where S is negative. See
'blockwright adjust' for how the tests are made.

The readings stay with the fixture. From the newest flip test and tip follows a
correction of the fixture itself: 'blockwright make' of it offers the correction and
builds it in with --apply.

Exit status is 0 when it was kept, 1 if the measurements contradict each other or do
not tell, 3 for a wrong command line and 4 if shop or fixture cannot be read or
written.`,
		Example: "  blockwright shelf record ridge-lock-19mm-block --flip 0.1mm --proud turned",
		Args:    exactly(1, "fixture"),
		PreRunE: func(*cobra.Command, []string) error {
			switch {
			case !flip.set && !tip.set:
				return errors.New("neither --flip nor --tip is given; want one or both")
			case flip.set && proud.text == "":
				return errors.New("flag --proud is missing; want which piece stood proud")
			case proud.text != "" && !flip.set:
				return errors.New("flag --flip is missing; want the step of the flip test")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			lib, err := s.library()
			if err != nil {
				return err
			}
			x := shelf.Reading{Date: today(s.env), Proud: proud.text, Tips: tip.set}
			if flip.set {
				x.Flip = flip.mm(lib.shop.Units)
			}
			if tip.set {
				x.Tip = tip.mm(lib.shop.Units)
			}
			return lib.record(cmd.Context(), s, args[0], x)
		},
	}
	cmd.Flags().Var(&flip, "flip", "`step` of the flip test")
	cmd.Flags().Var(&proud, "proud", "which piece stood proud: turned (of a matched set: second), first or none")
	cmd.Flags().Var(&tip, "tip", "how much shorter the tip is, or negative the width of the land left on it")
	return cmd
}

// A recordResult is what record answers.
type recordResult struct {
	ID       string          `json:"id"`
	Measured *measuredView   `json:"measured"`
	Offer    *correctionView `json:"offer"` // of the next make; null where nothing is to be corrected
}

// record keeps a reading and says what follows from it.
func (l *library) record(ctx context.Context, s *streams, id string, x shelf.Reading) error {
	var offer, applied shelf.Correction
	err := l.Update(ctx, id, func(r *shelf.Record) error {
		set, err := l.tested(r, x)
		if err != nil {
			return err
		}
		if len(r.History) >= shelf.HistoryMax {
			return fmt.Errorf("%s has %d readings; want at most %d", id, len(r.History), shelf.HistoryMax)
		}
		x.At, x.Cutter = r.Inputs.Applied, r.Cutters[0].Hash
		r.History = append(r.History, x)
		applied = r.Inputs.Applied
		offer, err = r.Offer(set)
		return err
	})
	if err != nil {
		return inShopUnits(err, l.shop.Units)
	}
	v := recordResult{ID: id, Measured: viewMeasured(x)}
	if offer != applied {
		v.Offer = &correctionView{offer.Height, offer.Fence}
	}
	return s.result(v, func(w io.Writer) error {
		fmt.Fprintf(w, "%s: %s\n", id, readingWords(x, l.shop.Units))
		if v.Offer == nil {
			fmt.Fprintln(w, "nothing to correct")
			return nil
		}
		_, err := fmt.Fprintf(w, "the next 'blockwright make' of it offers a fixture with %s, and makes it with --apply\n", correctionWords(offer, l.shop.Units))
		return err
	})
}

// tested is the setting that a reading was taken at, if the fixture could be tested
// so.
func (l *library) tested(r *shelf.Record, x shelf.Reading) (*joint.Setting, error) {
	now, err := l.request(r)
	if err != nil {
		return nil, err
	}
	if now.Joint.Cutter.Hash != r.Cutters[0].Hash {
		return nil, fmt.Errorf("the file of cutter %s changed since %s was made: make it anew before you record what it does", r.Inputs.Cutter, r.ID)
	}
	switch k := r.Inputs.Kind; {
	case k != "block" && k != "gauge":
		return nil, fmt.Errorf("a %s does not set the cutter; want the block or gauge that the test was cut with", k)
	case k == "gauge" && x.Proud != "":
		return nil, errors.New("a gauge sets the fence, a flip test tells the height; want the block that the test was cut with")
	}
	now.Joint.Web = max(l.shop.Defaults.Web, leastWeb)
	set, err := joint.Solve(now.Joint)
	if err != nil {
		return nil, err
	}
	return set, x.Check(set)
}
