package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"blockwright/jig/joint"
	"blockwright/jig/shelf"
	"blockwright/posts"
)

// A shownFixture is all that the shelf knows of a fixture.
type shownFixture struct {
	shelfItem
	Made      string            `json:"made"`
	Version   string            `json:"version"`
	Pass      string            `json:"pass"`
	Mill      string            `json:"mill"`
	Diameter  float64           `json:"mill_mm"`
	Sheet     string            `json:"sheet"`
	Thickness float64           `json:"thickness_mm"`
	Zero      string            `json:"zero"`
	Seconds   float64           `json:"seconds"`
	Gouge     float64           `json:"gouge_mm"`
	Leftover  float64           `json:"leftover_mm"`
	Files     []string          `json:"files"`
	Cutters   map[string]string `json:"cutters"` // SHA-256 of their files
	Shop      map[string]string `json:"shop"`    // what shop.toml said, lengths in mm
	Stages    []string          `json:"stages"`
	History   []*measuredView   `json:"history"`
	Offer     *correctionView   `json:"offer"`
}

func newShelfShowCmd(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "show ID",
		Short: "Describe a fixture on the shelf",
		Long: `Show prints what a fixture was made from and how, its files, what was measured with
it and the correction that follows.
` + shelfStatus,
		Example: "  blockwright shelf show ridge-lock-19mm-block",
		Args:    exactly(1, "fixture"),
		RunE: func(_ *cobra.Command, args []string) error {
			lib, err := s.library()
			if err != nil {
				return err
			}
			if _, err := lib.Load(args[0]); err != nil {
				return err
			}
			st := lib.Look(args[0], lib.changes)
			if st.Record == nil {
				return fmt.Errorf("%s", st.Because()) // it went between the two looks
			}
			v := lib.show(st)
			return s.result(v, func(w io.Writer) error { return printShown(w, v, st, lib.shop.Units) })
		},
	}
}

func (l *library) show(st shelf.Status) shownFixture {
	r := st.Record
	v := shownFixture{
		shelfItem: viewShelved(st), Made: r.Made, Version: r.Version, Pass: r.Setting.Pass,
		Mill: r.Milled.Mill, Diameter: r.Milled.Diameter, Sheet: r.Milled.Sheet, Thickness: r.Milled.Thickness, Zero: r.Milled.Zero,
		Seconds: r.Milled.Seconds, Gouge: r.Milled.Gouge, Leftover: r.Milled.Leftover,
		Files: l.paths(r), Cutters: map[string]string{}, Shop: map[string]string{}, Stages: []string{}, History: []*measuredView{},
	}
	for _, c := range r.Cutters {
		v.Cutters[c.Handle] = c.Hash
	}
	for _, s := range r.Shop {
		v.Shop[s.Part] = s.Text
	}
	for _, s := range r.Stages {
		v.Stages = append(v.Stages, s.Name)
	}
	for _, x := range r.History {
		v.History = append(v.History, viewMeasured(x))
	}
	if len(r.History) > 0 {
		if now, err := l.request(r); err == nil && now.Joint.Cutter.Hash == r.Cutters[0].Hash {
			now.Joint.Web = max(l.shop.Defaults.Web, leastWeb)
			if set, err := joint.Solve(now.Joint); err == nil {
				if c, err := r.Offer(set); err == nil && c != r.Inputs.Applied {
					v.Offer = &correctionView{c.Height, c.Fence}
				}
			}
		}
	}
	return v
}

func printShown(w io.Writer, v shownFixture, st shelf.Status, units string) error {
	r := st.Record
	fmt.Fprintf(w, "%s  %s\n", v.ID, plain(v.Title))
	fmt.Fprintf(w, "  state       %s", v.State)
	if v.Why != "" {
		fmt.Fprintf(w, ": %s", plain(v.Why))
	}
	fmt.Fprintf(w, "\n  made        %s by blockwright %s\n", v.Made, plain(v.Version))
	fmt.Fprintf(w, "  setting     height %s, fence %s\n", known(r.Setting.Height, !r.Setting.HeightUnknown, units), known(r.Setting.Fence, !r.Setting.FenceUnknown, units))
	if words := posts.CorrectionWords(r.Inputs.Applied, units); words != "" {
		fmt.Fprintf(w, "  corrected   %s than computed\n", words)
	}
	fmt.Fprintf(w, "  sheet       %s, %s thick\n", plain(v.Sheet), inUnits(v.Thickness, units))
	fmt.Fprintf(w, "  end mill    %s, cuts %s\n", plain(v.Mill), inUnits(v.Diameter, units))
	fmt.Fprintf(w, "  Z zero      %s; about %s\n", zeroWords(v.Zero), posts.ClockTime(v.Seconds))
	fmt.Fprintf(w, "  proved      gouge %s, leftover %s off the tabs\n", tiny(v.Gouge, units), tiny(v.Leftover, units))
	for _, x := range r.History {
		fmt.Fprintf(w, "  history     %s\n", readingWords(x, units))
	}
	printOffer(w, madeFixture{Offer: v.Offer}, units)
	for _, s := range r.Stages {
		fmt.Fprintf(w, "  stage       %s, %s by blockwright %s\n", s.Name, s.Made, plain(s.Version))
	}
	printFiles(w, madeFixture{Files: v.Files})
	return nil
}
