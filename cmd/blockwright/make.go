package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/source"
	"blockwright/posts"
)

// makeFlags are the flags of make.
type makeFlags struct {
	kinds   []string
	cutters wordsFlag
	stock   lengthsFlag
	joint   jointFlags
	width   lengthFlag
	mill    lengthFlag
	sheet   nameFlag
	from    choiceFlag
	zero    choiceFlag
	hold    choiceFlag
	finish  choiceFlag
	witness witnessFlag
	posts   wordsFlag
	out     folderFlag

	force, apply, uncorrected bool
}

func newMakeCmd(s *streams) *cobra.Command {
	f := &makeFlags{
		stock: lengthsFlag{sign: positive}, width: lengthFlag{sign: positive, text: fmt.Sprintf("%dmm", posts.StripWidth)}, mill: lengthFlag{sign: positive},
		from: choiceFlag{words: []string{"pin", "cutter"}},
		zero: choiceFlag{words: []string{"table", "top"}},
		hold: choiceFlag{words: []string{"tabs", "screws", "skin"}}, finish: choiceFlag{words: []string{posts.FinishMeasured}},
	}
	cmd := &cobra.Command{
		Use:   "make KIND... --cutter CUTTER --stock THICKNESS",
		Short: "Write the milling programs and drawings of fixtures",
		Long: `Make designs fixtures and writes their programs and drawings. KIND is

  block   height setup block: an upright plate whose end is the board's section
          at the right setting, and a crossbar that bridges the fence opening
  gauge   fence-offset gauge: a flat bar across the fence opening with one nose,
          measured from a pin in the collet or from the cutter
  strip   sacrificial strips that guide the board over fence and insert opening
          in both passes, for boards as wide as --width
  coupon  the two ideal halves of the joint, to lay routed test pieces into
  facing  sacrificial fence facing that follows the cutter's outline, relieved
          behind
  trial   two squares and a window: their sizes tell what the mill truly cuts; cutter
          and stock only name it

Block, gauge and facing are made for each pass that stands elsewhere: a drawer lock's front
and side, the two cutters of a matched set. --side, --overlay, --skim, --land, --with
and --at ask for the joint as 'blockwright setting' does.

Kinds, cutters, thicknesses and posts are words or comma lists; every combination
of kind, cutter and thickness is made, on all cores. Without --mill the largest end
mill of the shop is used that leaves every seat long enough, without --post every
format is written (see 'blockwright posts').

Fixtures go to the shelf, the folder fixtures of the shop (see 'blockwright shelf'),
each a folder of its own that is replaced in one step. One that stands there as asked
for, every file what was written, and made from the same shop, cutter and version, is
left as it is. With --out the files go to another folder and the shelf is not looked
at. Where a test cut was recorded, the correction is offered, and built into block or
gauge with --apply; it stays until another one is applied or --uncorrected drops it.

With --finish measured the program leaves 0.2 mm on the walls and mills a witness
beside the plates; 'blockwright finish' turns its two measured sizes into the second
program, which has the mill's true diameter and the machine's backlash in it.

Every program is read back from its bytes and its moves are held against the
part before anything is written. A fixture that fails its proof leaves no file;
the others are made all the same, and those that were not are told at the end.

` + cautions + `

Exit status is 0 when every fixture was made, 1 if one was not, 3 for a wrong
command line and 4 if a file, cutter or shop is missing or cannot be read or
written.`,
		Example: `  blockwright make block gauge --cutter ridge-lock --stock 19mm
  blockwright make block --cutter ridge-lock --stock 3/4in,18mm --mill 2mm --post grbl,svg
  blockwright make block,gauge --cutter tongue --with groove --stock 19mm`,
		Args: func(_ *cobra.Command, args []string) error {
			kinds, err := splitWords(args...)
			if err != nil {
				return err
			}
			if len(kinds) == 0 {
				return fmt.Errorf("no kind of fixture named; want one or more of %s", strings.Join(posts.Kinds(), ", "))
			}
			for _, k := range kinds {
				if !slices.Contains(posts.Kinds(), k) {
					return fmt.Errorf("unknown kind %q; want %s", k, source.Choice(posts.Kinds()))
				}
			}
			f.kinds = kinds
			return nil
		},
		PreRunE: func(cmd *cobra.Command, _ []string) error {
			for _, p := range f.posts.items {
				if !slices.Contains(posts.PostNames(), p) {
					return fmt.Errorf("flag --post: %q; want %s", p, source.Choice(posts.PostNames()))
				}
			}
			switch {
			case f.witness.set() && f.finish.text == "":
				return fmt.Errorf("flag --witness: only with --finish measured")
			case f.witness.set() && f.out.path == "":
				return fmt.Errorf("flag --witness: only with --out; for a fixture in the shop's folder use 'blockwright finish ID --witness …'")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return makeFixtures(cmd.Context(), s, f) },
	}
	fl := cmd.Flags()
	fl.Var(&f.cutters, "cutter", "handle of the cutter")
	fl.Var(&f.stock, "stock", "thickness of the boards")
	f.joint.add(cmd)
	fl.Var(&f.width, "width", "strip: width of the board along the fence")
	fl.Var(&f.mill, "mill", "diameter of the end mill")
	fl.Var(&f.sheet, "sheet", "name of the sheet to cut from (the shop's first)")
	fl.Var(&f.from, "from", "gauge: measure from pin or cutter (the pin, where the shop has one and the radii are known)")
	fl.Var(&f.zero, "zero", "Z zero: table or top of the sheet (as the shop has it)")
	fl.Var(&f.hold, "hold", "hold the plates by tabs, screws or skin (as the shop has it)")
	fl.Var(&f.finish, "finish", "measured: rough, measure a witness, then finish by a second program")
	fl.Var(&f.witness, "witness", "sizes of the witness across X and Y: write the second program to --out")
	fl.Var(&f.posts, "post", "formats to write (all)")
	fl.Var(&f.out, "out", "folder to write to, and not to the shelf")
	fl.BoolVar(&f.force, "force", false, "make anew what stands on the shelf as asked for")
	fl.BoolVar(&f.apply, "apply", false, "correct block and gauge by what was measured with them (see 'shelf record')")
	fl.BoolVar(&f.uncorrected, "uncorrected", false, "make block and gauge for the computed setting again")
	for _, name := range []string{"force", "apply", "uncorrected"} {
		cmd.MarkFlagsMutuallyExclusive("out", name)
	}
	cmd.MarkFlagsMutuallyExclusive("apply", "uncorrected")
	for _, name := range []string{"cutter", "stock"} {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err)
		}
	}
	return cmd
}

// cautions stand wherever the program tells somebody to work.
const cautions = `Disconnect the power before you touch a cutter. Take block, gauge and wrench out
before the power goes on. Wear eye protection, clamp the sheet, run a new program
in the air first. The makers' instructions, local rules and trained practice come
before anything said here.`

// cautionsAtTable are those for work at the router table.
const cautionsAtTable = `Disconnect the power before you touch a cutter. Take block, gauge and wrench out
before the power goes on. The shank goes all but fully into the collet. Feed right to
left, against the rotation, never between cutter and fence; featherboards and push
blocks, hands 75 mm (3 in) away, eyes and ears protected. Never the whole depth at
once: the fence moves in stages, the height stays. The makers' instructions, local
rules and trained practice come before anything said here.`
