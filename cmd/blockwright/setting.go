package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// settingFlags are what setting is asked.
type settingFlags struct {
	stock                   lengthsFlag
	joint                   jointFlags
	errorHeight, errorFence lengthFlag
	one                     bool
	drawing                 folderFlag
	species                 nameFlag
	moisture                moistureFlag
}

func newSettingCmd(s *streams) *cobra.Command {
	f := settingFlags{stock: lengthsFlag{sign: positive}}
	cmd := &cobra.Command{
		Use:   "setting CUTTER --stock T",
		Short: "Say where cutter and fence have to stand",
		Long: `Setting prints height and fence of a joint for each thickness of stock, the range
of stock that the cutter joins, what can be measured at the table, and what an
error of height, fence or thickness does.

The height is that of the cutting edge's lower end above the table, negative
below it; the fence is the distance of the spindle's axis behind the fence's face,
negative in front of it. Stock outside the usable range gives a warning; stock
that the cutter cannot join, or a setting that the shop's table cannot reach, is
refused.

A matched set has two cutters: --with names the other one, which is set to match
the first. The tongue, or the groove, of the first stands in the middle of the
stock, or where --at wants a point of its profile. Groove bottoms that are deeper
than the tongue are the set's clearance. A plain edge needs --at: which point of
the profile, by radius and height, lands how far out of the fence and how high.

The errors of --error-height and --error-fence are those of every pass; of a
matched set, those of the second cutter against the first.

Exit status is 0 when every setting was found, 1 if one was refused or a file has
faults, 3 for a wrong command line and 4 if the shop or the cutter is missing or
cannot be read.`,
		Example: `  blockwright setting ridge-lock --stock 19
  blockwright setting ridge-lock --stock 3/4in,18.6mm --land 0.5mm --json
  blockwright setting tongue --with groove --stock 19mm
  blockwright setting round-over --stock 19mm --at 6.35,6=0,6`,
		Args: exactly(1, "cutter"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := wantEnding(cmd, "drawing", f.drawing.path, ".svg"); err != nil {
				return err
			}
			return settings(s, args[0], &f)
		},
	}
	cmd.Flags().Var(&f.stock, "stock", "`thickness` of the boards; several as a comma list")
	f.joint.add(cmd)
	cmd.Flags().Var(&f.errorHeight, "error-height", "say what a cutter too high by so much does (negative: too low)")
	cmd.Flags().Var(&f.errorFence, "error-fence", "say what a fence too far back by so much does (negative: too far forward)")
	cmd.Flags().BoolVar(&f.one, "one", false, "the stocks are the measured boards of one job: set for the thickest")
	cmd.Flags().Var(&f.drawing, "drawing", "write a drawing of the closed joint, right and with errors magnified, to this SVG `file`")
	cmd.Flags().Var(&f.species, "species", "name of the wood, for what moisture does to it")
	cmd.Flags().Var(&f.moisture, "moisture", "moisture contents in per cent, when measured and later, as in 8,11")
	cmd.MarkFlagsRequiredTogether("species", "moisture")
	if err := cmd.MarkFlagRequired("stock"); err != nil {
		panic(err) // the flag is defined above
	}
	return cmd
}

// settings finds and prints the settings of one cutter. What is refused does not
// keep the others from being printed.
func settings(s *streams, handle string, f *settingFlags) error {
	sh, err := s.shop()
	if err != nil {
		return err
	}
	c, err := cutter.Find(sh.Dir, handle)
	if err != nil {
		return err
	}
	request, err := f.joint.request(sh, c)
	if err != nil {
		return err
	}
	var found []*joint.Setting
	var refused []error
	var failed []failedView
	stocks := f.stock.mm(sh.Units)
	if f.one {
		stocks = []float64{slices.Max(stocks)}
	}
	for _, stock := range stocks {
		set, err := solveFor(request(stock), sh)
		if err != nil {
			refused = append(refused, err)
			failed = append(failed, failedView{stock, err.Error()})
			continue
		}
		found = append(found, set)
	}
	if len(found) > 0 {
		if err := f.drawJoints(found, sh.Units); err != nil {
			return err
		}
		if err := printSettings(s, found, failed, sh, f); err != nil {
			refused = append(refused, err)
		}
	}
	return errors.Join(refused...)
}

// wrong is the error whose effect is asked for, nil without one.
func (f *settingFlags) wrong(units string) *joint.Error {
	if !f.errorHeight.set && !f.errorFence.set {
		return nil
	}
	var e joint.Error
	if f.errorHeight.set {
		e.DZ = f.errorHeight.mm(units)
	}
	if f.errorFence.set {
		e.E = f.errorFence.mm(units)
	}
	return &e
}

// solveFor is the setting that also the shop's table allows. Errors speak the
// shop's units.
func solveFor(r joint.Request, sh *shop.Shop) (*joint.Setting, error) {
	set, err := joint.Solve(r)
	if err == nil {
		err = set.Fits(sh.Table)
	}
	if err != nil {
		return nil, inShopUnits(err, sh.Units)
	}
	return set, nil
}

// A saidError is an error in the shop's units.
type saidError struct {
	err  error
	text string
}

func (e *saidError) Error() string { return e.text }
func (e *saidError) Unwrap() error { return e.err }

// inShopUnits says an error's lengths in the shop's units, where it has any.
func inShopUnits(err error, units string) error {
	var bad *joint.BadRequest
	if errors.As(err, &bad) {
		flag := bad.Key
		if flag == "other" {
			flag = "side"
		}
		if slices.Contains([]string{"stock", "side", "land", "skim", "overlay", "with", "at"}, flag) {
			err = &joint.BadRequest{Key: "flag --" + flag, Have: bad.Have, Want: bad.Want}
		}
	}
	var m interface{ Message() joint.Message }
	if !errors.As(err, &m) {
		return err
	}
	return &saidError{err, m.Message().Say(func(mm float64) string { return shortUnits(mm, units) })}
}

// shortUnits is a length without trailing zeros: 19 mm, 0.75 in.
func shortUnits(mm float64, units string) string {
	if units != "in" {
		return shortest(mm, 3) + " mm"
	}
	return shortest(mm/25.4, 4) + " in"
}

func shortest(v float64, decimals int) string {
	p := math.Pow(10, float64(decimals))
	return fmt.Sprintf("%v", math.Round(v*p)/p+0) // + 0 turns -0 into 0
}

// A failedView is a refused stock beside others that were not.
type failedView struct {
	Stock float64 `json:"stock_mm"`
	Why   string  `json:"why"`
}

func printSettings(s *streams, found []*joint.Setting, failed []failedView, sh *shop.Shop, f *settingFlags) error {
	wrong := f.wrong(sh.Units)
	woods := make([]*woodView, len(found))
	var boards *boardsView
	for i, set := range found {
		var err error
		if woods[i], err = f.moves(set); err != nil {
			return err
		}
		if f.one {
			boards = boardsOf(set, f.stock.mm(sh.Units))
		}
	}
	var v any
	if s.json { // searches and effects take their time: they are made for one reader only
		views := make([]settingView, len(found))
		for i, set := range found {
			views[i] = viewSetting(set)
			views[i].Wood, views[i].Job = woods[i], boards
			if wrong != nil {
				views[i].Effect = viewAsked(set, set.Under(*wrong))
			}
		}
		v = views[0]
		if len(views)+len(failed) > 1 {
			v = map[string]any{"settings": views, "failed": append([]failedView{}, failed...)}
		}
	}
	return s.result(v, func(w io.Writer) error {
		if err := writeSettings(w, found, sh.Units, wrong, woods, boards); err != nil {
			return err
		}
		_, err := fmt.Fprintf(w, "\nNext: the fixtures that put cutter and fence there\n  blockwright make block gauge --cutter %s --stock %s%s\n",
			found[0].Request.Cutter.Handle, f.typedStocks(found, sh.Units), f.joint.typed())
		return err
	})
}

// typedStocks are the thicknesses that were found, as they were typed.
func (f *settingFlags) typedStocks(found []*joint.Setting, units string) string {
	var out []string
	for _, set := range found {
		for i, mm := range f.stock.mm(units) {
			if text := typed(f.stock.words.items[i]); mm == set.Request.Stock && !slices.Contains(out, text) {
				out = append(out, text)
				break
			}
		}
	}
	return strings.Join(out, ",")
}
