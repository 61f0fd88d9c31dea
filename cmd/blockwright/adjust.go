package main

import (
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"blockwright/jig/adjust"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
	"blockwright/posts"
)

// joinFlags say which joint was cut.
type joinFlags struct {
	cutter nameFlag
	stock  lengthFlag
	joint  jointFlags
}

// which adds cutter and stock.
func (f *joinFlags) which(cmd *cobra.Command) {
	f.stock.sign = positive
	cmd.Flags().Var(&f.cutter, "cutter", "handle of the cutter")
	cmd.Flags().Var(&f.stock, "stock", "thickness of the flat board")
}

// add adds all flags; cutter and stock are required.
func (f *joinFlags) add(cmd *cobra.Command) {
	f.which(cmd)
	f.joint.add(cmd)
	for _, name := range []string{"cutter", "stock"} {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err)
		}
	}
}

// solve is the setting that the test was cut for.
func (f *joinFlags) solve(s *streams) (*joint.Setting, *shop.Shop, error) {
	sh, err := s.shop()
	if err != nil {
		return nil, nil, err
	}
	c, err := cutter.Find(sh.Dir, f.cutter.text)
	if err != nil {
		return nil, nil, err
	}
	request, err := f.joint.request(sh, c)
	if err != nil {
		return nil, nil, err
	}
	set, err := solveFor(request(f.stock.mm(sh.Units)), sh)
	return set, sh, err
}

func newAdjustCmd(s *streams) *cobra.Command {
	return group(&cobra.Command{
		Use:   "adjust",
		Short: "Turn a measured test cut into a correction",
		Long: `Adjust takes what a test cut or a trial piece measures and says what to turn which
way and by how much, and what the next test must show. Name cutter and stock as for
the setting that the test was cut with. Which reading helps:

  lock miter            flip for the height, then tip for the fence, or both at
                        once; corner when a flat and an upright piece are cut
  edge glue joint       edge
  matched set           edge, with --with
  drawer lock           corner
  plain edge            edge, with --at and --landed
  a block at the fence  block
  the milling machine   trial

Read steps with a depth gauge or feelers, sizes with calipers, off clean pieces of
the real stock. Correct the height first.

` + cautions,
	}, newAdjustFlipCmd(s), newAdjustEdgeCmd(s), newAdjustTipCmd(s), newAdjustCornerCmd(s), newAdjustBlockCmd(s), newAdjustTrialCmd(s))
}

const adjustStatus = `
Exit status is 0 with an answer, 1 if the measurements contradict each other or do
not tell, 3 for a wrong command line and 4 if shop or cutter cannot be read.`

// tipFlags are how a flat board's tip was found.
type tipFlags struct{ short, land lengthFlag }

func (f *tipFlags) add(cmd *cobra.Command) {
	f.short.sign, f.land.sign = notNegative, notNegative
	cmd.Flags().Var(&f.short, "short", "length that the tip of a flat board lost")
	cmd.Flags().Var(&f.land, "tip-land", "width of the land left on the tip of a flat board")
}

func (f *tipFlags) set() bool { return f.short.set || f.land.set }

func (f *tipFlags) tip(units string) adjust.Tip {
	var t adjust.Tip
	if f.short.set {
		t.Short = f.short.mm(units)
	}
	if f.land.set {
		t.Land = f.land.mm(units)
	}
	return t
}

func newAdjustFlipCmd(s *streams) *cobra.Command {
	var join joinFlags
	var tip tipFlags
	step := lengthFlag{sign: notNegative}
	bottom := lengthFlag{}
	var pieces lengthsFlag
	pieces.sign = positive
	proud := choiceFlag{words: []string{string(adjust.Turned), string(adjust.First), string(adjust.Level)}}
	cmd := &cobra.Command{
		Use:   "flip --cutter CUTTER --stock T --step S --proud turned|first|none",
		Short: "From the step of two pieces, one turned over",
		Long: `Flip reads the flip test: cut two pieces of the stock flat, pencil the face that lay
on the table, turn one over and push the cuts together. The turned piece above the
other: the cutter is too high; below: too low. Move by half the step.

With the tip of one of the pieces, by --short or --tip-land, it gives the fence
too. Pieces that are not of the stock's thickness are named by --pieces, first the
one that lies as it was cut; --step-bottom, the turned piece's step below, then
checks the reading.
` + adjustStatus,
		Example: "  blockwright adjust flip --cutter ridge-lock --stock 19mm --step 0.2mm --proud turned",
		Args:    atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			f := adjust.Flip{Step: step.mm(sh.Units), Proud: adjust.Proud(proud.text), Bottom: math.NaN()}
			if ps := pieces.mm(sh.Units); len(ps) == 2 {
				f.Pieces = [2]float64{ps[0], ps[1]}
			} else if len(ps) != 0 {
				return &usageError{err: fmt.Errorf("flag --pieces: %d thicknesses; want 2", len(ps)), path: "blockwright adjust flip"}
			}
			if bottom.set {
				f.Bottom = bottom.mm(sh.Units)
			}
			var m adjust.Move
			if tip.set() {
				m, err = adjust.FromFlipAndTip(set, f, tip.tip(sh.Units))
			} else {
				m, err = adjust.FromFlip(set, f)
			}
			return answer(s, sh, m, err)
		},
	}
	join.add(cmd)
	tip.add(cmd)
	cmd.Flags().Var(&step, "step", "step between the pieces on top")
	cmd.Flags().Var(&proud, "proud", "which piece stands proud: turned, first or none")
	cmd.Flags().Var(&pieces, "pieces", "thicknesses of the two pieces, where they are not the stock's")
	cmd.Flags().Var(&bottom, "step-bottom", "step of the turned piece at the bottom, + beyond the other")
	for _, name := range []string{"step", "proud"} {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err)
		}
	}
	return cmd
}

func newAdjustEdgeCmd(s *streams) *cobra.Command {
	var join joinFlags
	step := lengthFlag{sign: notNegative}
	var landed placeFlag
	proud := choiceFlag{words: []string{string(adjust.Turned), string(adjust.Second), string(adjust.First), string(adjust.Level)}}
	cmd := &cobra.Command{
		Use:   "edge --cutter CUTTER --stock T (--step S --proud WHICH | --at R,H=X,Z --landed X,Z)",
		Short: "From two boards joined edge to edge, or from a plain edge",
		Long: `Edge reads two test pieces pushed together edge to edge on a flat: the step of their
faces. With one cutter, one piece is cut with its other face down, and the step is
twice the error of the height: which piece stands proud, the turned one or the
first. With a matched set (--with) both are cut with the same face down, and the
second cutter moves by the whole step: is the second piece proud, or the first? The
fence of such joints is free.

Of a plain edge, --landed says where the point of the profile that --at wants
somewhere came to lie: how far from the board's end, and how high above the face
that lay on the table.
` + adjustStatus,
		Example: `  blockwright adjust edge --cutter glue --stock 19mm --step 0.3mm --proud turned
  blockwright adjust edge --cutter tongue --with groove --stock 19mm --step 0.3mm --proud second
  blockwright adjust edge --cutter rebate --stock 19mm --at 16,12=8,8 --landed 8.2,7.9`,
		Args: atMost(0, "arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if landed.text == "" && (!step.set || proud.text == "") {
				return &usageError{err: errors.New("what was measured is not given; want --step and --proud, or --landed"), path: cmd.CommandPath()}
			}
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			var m adjust.Move
			if landed.text != "" {
				m, err = adjust.FromLanding(set, landed.point(sh.Units))
			} else {
				m, err = adjust.FromEdge(set, adjust.Flip{Step: step.mm(sh.Units), Proud: adjust.Proud(proud.text), Bottom: math.NaN()})
			}
			return answer(s, sh, m, err)
		},
	}
	join.add(cmd)
	cmd.Flags().Var(&step, "step", "step between the faces")
	cmd.Flags().Var(&proud, "proud", "which piece stands proud: turned or second, first, or none")
	cmd.Flags().Var(&landed, "landed", "where the point came to lie, as `x,z`")
	cmd.MarkFlagsMutuallyExclusive("landed", "step")
	cmd.MarkFlagsMutuallyExclusive("landed", "proud")
	return cmd
}

func newAdjustTipCmd(s *streams) *cobra.Command {
	var join joinFlags
	var tip tipFlags
	cmd := &cobra.Command{
		Use:   "tip --cutter CUTTER --stock T --short S | --tip-land S",
		Short: "From the tip of a flat board, the height being right",
		Long: `Tip reads the sharp end of a board cut flat: length that it lost means too much
cutter, a land left on it too little. The height has to be right: see flip.
` + adjustStatus,
		Args: atMost(0, "arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if !tip.set() {
				return &usageError{err: errors.New("neither --short nor --tip-land is given; want one of them"), path: cmd.CommandPath()}
			}
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			m, err := adjust.FromTip(set, tip.tip(sh.Units))
			return answer(s, sh, m, err)
		},
	}
	join.add(cmd)
	tip.add(cmd)
	return cmd
}

func newAdjustCornerCmd(s *streams) *cobra.Command {
	var join joinFlags
	var face, end lengthFlag
	cmd := &cobra.Command{
		Use:   "corner --cutter CUTTER --stock T --face S --end S",
		Short: "From the two steps of a test corner",
		Example: `  blockwright adjust corner --cutter ridge-lock --stock 19mm --face 0.2mm --end=-0.1mm
  blockwright adjust corner --cutter drawer --stock 19mm --side 12mm --face 0.3mm --end=-0.2mm`,
		Long: `Corner reads a flat and an upright board with their cuts in each other: how far the
upright board's outer face stands beyond the flat board's tip, and how far its end
stands above the flat board's face; negative behind and below. The same step at
both does not tell height from fence: then it asks for a flip test or a tip.

Of a drawer lock, --face is how far the side's outer face stands beyond where the
overlay wants it, and --end, negative, the gap between the side's end and the
front's lip.
` + adjustStatus,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			m, err := adjust.FromCorner(set, adjust.Corner{Face: face.mm(sh.Units), End: end.mm(sh.Units)})
			return answer(s, sh, m, err)
		},
	}
	join.add(cmd)
	cmd.Flags().Var(&face, "face", "step of the outer face")
	cmd.Flags().Var(&end, "end", "step of the end")
	for _, name := range []string{"face", "end"} {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err)
		}
	}
	return cmd
}

func newAdjustBlockCmd(s *streams) *cobra.Command {
	var join joinFlags
	standoff := lengthFlag{sign: notNegative}
	cmd := &cobra.Command{
		Use:   "block --cutter CUTTER --stock T --standoff S",
		Short: "From the gap that a setup block leaves at the fence",
		Long: `Block reads the gap between the fence and a setup block that is slid home against
the cutter, of the first pass and as 'make block' makes it from the shop's first
sheet. It tells the height only when the fence is right: set the fence first, with
the cutter low, until the block's fence seat just brushes. Where both are unknown
one reading cannot tell them apart.

` + causesText() + adjustStatus,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			left, err := posts.BlockGap(posts.Request{Shop: sh, Joint: set.Request, Stock: posts.Measure{MM: set.Request.Stock, Unit: sh.Units}})
			if err != nil {
				return inShopUnits(err, sh.Units)
			}
			m, err := adjust.FromStandoff(standoff.mm(sh.Units), left)
			return answer(s, sh, m, err)
		},
	}
	join.add(cmd)
	cmd.Flags().Var(&standoff, "standoff", "gap at the fence with the block slid home")
	if err := cmd.MarkFlagRequired("standoff"); err != nil {
		panic(err)
	}
	return cmd
}

// A moveView is a correction as JSON.
type moveView struct {
	Height    *float64 `json:"height_mm"` // null where it is not known
	Fence     *float64 `json:"fence_mm"`
	Turns     *float64 `json:"turns"` // of the lift, + up; null without a pitch
	FreeEnd   *float64 `json:"free_end_mm,omitempty"`
	Direction string   `json:"direction"`
	Next      string   `json:"next"`
}

// answer prints a correction, or the refusal in the shop's status.
func answer(s *streams, sh *shop.Shop, m adjust.Move, err error) error {
	if err != nil {
		return inShopUnits(err, sh.Units)
	}
	var v moveView
	var lines []string
	if m.Knows[0] {
		v.Height = &m.Height
		text := "leave the height as it is"
		if math.Abs(m.Height) >= 0.0005 {
			text = fmt.Sprintf("%s the cutter %s (%s)", pick(m.Height > 0, "raise", "lower"), inUnits(math.Abs(m.Height), sh.Units), thousandths(m.Height))
			if p := sh.Table.LiftPitch; p > 0 {
				turns := m.Height / p
				v.Turns = &turns
				text += fmt.Sprintf(": %.3f turns of the lift, %.0f°", math.Abs(turns), math.Abs(turns)*360)
			}
			text += "; let the last movement be upward"
		}
		lines = append(lines, text)
	}
	if m.Knows[1] {
		v.Fence = &m.Fence
		text := "leave the fence as it is"
		if math.Abs(m.Fence) >= 0.0005 {
			text = fmt.Sprintf("move the fence %s (%s) %s", inUnits(math.Abs(m.Fence), sh.Units), thousandths(m.Fence),
				pick(m.Fence > 0, "back, away from you: more cutter", "forward, towards you: less cutter"))
			if t := sh.Table; t.LeverPivot > 0 {
				free := m.Fence * t.LeverFree / t.LeverPivot
				v.FreeEnd = &free
				text += fmt.Sprintf("; %s at its free end", inUnits(math.Abs(free), sh.Units))
			}
		}
		lines = append(lines, text)
	}
	for i, l := range lines {
		if i > 0 {
			v.Direction += "; "
		}
		v.Direction += l
	}
	v.Next = m.Next
	return s.result(v, func(w io.Writer) error {
		for _, l := range lines {
			fmt.Fprintln(w, l)
		}
		fmt.Fprintf(w, "next: %s\n\nDisconnect the power before you touch cutter or fence. The makers' instructions, local\nrules and trained practice come first.\n", m.Next)
		return nil
	})
}

func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// thousandths is a length in thousandths of an inch, as a dial shows it.
func thousandths(mm float64) string {
	return fmt.Sprintf("%s thousandths of an inch", fixed(math.Abs(mm)/0.0254, 1))
}
