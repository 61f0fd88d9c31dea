package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/gcode/proof"
	"blockwright/jig/cutter"
	"blockwright/jig/shelf"
	"blockwright/jig/shop"
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
  trial   two squares and a window: their sizes tell what the mill truly cuts

Block and gauge are made for each pass that stands elsewhere: a drawer lock's front
and side, the two cutters of a matched set. --side, --overlay, --skim, --land, --with
and --at ask for the joint as 'blockwright setting' does.

Kinds, cutters, thicknesses and posts are words or comma lists; every combination
of kind, cutter and thickness is made. Without --mill the largest end mill of the
shop is used that leaves every seat long enough, without --post every format is
written (see 'blockwright posts'), without --out the files go to the folder out
of the shop.

With --finish measured the program leaves 0.2 mm on the walls and mills a witness
beside the plates; 'blockwright finish' turns its two measured sizes into the second
program, which has the mill's true diameter and the machine's backlash in it.

Every program is read back from its bytes and its moves are held against the
part before anything is written. A fixture that fails its proof leaves no file;
the others are made all the same.

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
	fl.Var(&f.from, "from", "gauge: measure from pin or cutter (the pin, where the shop has one)")
	fl.Var(&f.zero, "zero", "Z zero: table or top of the sheet (as the shop has it)")
	fl.Var(&f.hold, "hold", "hold the plates by tabs, screws or skin (as the shop has it)")
	fl.Var(&f.finish, "finish", "measured: rough, measure a witness, then finish by a second program")
	fl.Var(&f.witness, "witness", "sizes of the witness across X and Y: write the second program to --out")
	fl.Var(&f.posts, "post", "formats to write (all)")
	fl.Var(&f.out, "out", "folder to write to (out in the shop)")
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
before the power goes on. Feed right to left, against the rotation, never between
cutter and fence; featherboards and push blocks, hands 75 mm (3 in) away, eyes and
ears protected. Never the whole depth at once. The makers' instructions, local rules
and trained practice come before anything said here.`

// A madeFixture is a line of the result.
type madeFixture struct {
	ID        string   `json:"id"`
	Kind      string   `json:"kind"`
	Files     []string `json:"files"`
	Mill      float64  `json:"mill_mm"`
	Thickness float64  `json:"thickness_mm"`
	Zero      string   `json:"zero"`
	Gouge     float64  `json:"gouge_mm"`
	Leftover  float64  `json:"leftover_mm"`
	Seconds   float64  `json:"seconds"`

	ToolError *toolError `json:"tool_error,omitempty"`
	Standoff  []standoff `json:"standoff,omitempty"`
	Shims     []shim     `json:"shims,omitempty"`
	Nose      *nose      `json:"nose,omitempty"`

	Witness *witnessView `json:"witness,omitempty"`
	Finish  *finishView  `json:"finish,omitempty"`

	fixture *posts.Fixture
}

// A toolError is what the setting is off by when the mill cuts Wider than stated.
type toolError struct {
	Wider  float64 `json:"wider_mm"`
	Height float64 `json:"height_mm"`
	Fence  float64 `json:"fence_mm"`
}

// A standoff is the gap left at the fence with the block slid home.
type standoff struct {
	DZ  float64 `json:"dz_mm"`
	E   float64 `json:"e_mm"`
	Gap float64 `json:"gap_mm"`
}

// A shim under the block and the same at the fence sets for a thicker stock.
type shim struct {
	Shim  float64 `json:"shim_mm"`
	Stock float64 `json:"stock_mm"`
}

type nose struct {
	From    string  `json:"from"`
	X       float64 `json:"x_mm"`
	Support string  `json:"support"`
	Change  float64 `json:"change_mm"`
}

type notMade struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

type makeResult struct {
	Fixtures []madeFixture `json:"fixtures"`
	Failed   []notMade     `json:"failed"`

	sizes [2]float64 // of the witness, as measured
}

func makeFixtures(ctx context.Context, s *streams, f *makeFlags) error {
	sh, err := s.shop()
	if err != nil {
		return err
	}
	requests, err := f.requests(sh)
	if err != nil {
		return err
	}
	dir := f.out.path
	if dir == "" {
		dir = filepath.Join(sh.Dir, "out")
	}
	result := makeResult{Fixtures: []madeFixture{}, Failed: []notMade{}}
	if f.witness.set() {
		result.sizes[0], result.sizes[1] = f.witness.mm(sh.Units)
	}
	var stop error // what ends the run; what was done before is told all the same
	for _, r := range requests {
		made, err := makeOne(ctx, r, dir, &f.witness)
		if err == nil {
			result.Fixtures = append(result.Fixtures, made)
			continue
		}
		if statusOf(err) == statusFile || ctx.Err() != nil {
			stop = err
			break
		}
		result.Failed = append(result.Failed, notMade{r.ID(), inShopUnits(err, sh.Units).Error()})
	}
	if stop != nil && len(result.Fixtures)+len(result.Failed) == 0 {
		return stop
	}
	if err := s.result(result, func(w io.Writer) error { return printMade(w, result, sh.Units) }); err != nil {
		return err
	}
	if !s.json {
		for _, n := range result.Failed {
			fmt.Fprintf(s.err, "blockwright: %s was not made: %s\n", n.ID, n.Why)
		}
	}
	switch {
	case stop != nil:
		return stop
	case len(result.Failed) > 0:
		return &silent{statusFault}
	}
	return nil
}

// requests are the fixtures asked for, each once.
func (f *makeFlags) requests(sh *shop.Shop) ([]posts.Request, error) {
	if f.zero.text != "" {
		sh.Defaults.Zero = f.zero.text
	}
	if f.hold.text != "" {
		sh.Defaults.Hold = f.hold.text
	}
	names := f.posts.items
	if len(names) == 0 {
		names = sh.Defaults.Posts
		if err := postFaults(sh.Defaults); err != nil {
			return nil, err
		}
	}
	var out []posts.Request
	seen := map[string]bool{}
	for _, handle := range f.cutters.items {
		c, err := cutter.Find(sh.Dir, handle)
		if err != nil {
			return nil, err
		}
		request, err := f.joint.request(sh, c)
		if err != nil {
			return nil, err
		}
		for i, mm := range f.stock.mm(sh.Units) {
			for _, kind := range f.kinds {
				r := posts.Request{
					Shop: sh, Joint: request(mm),
					Stock: posts.Measure{MM: mm, Unit: source.Unit(f.stock.words.items[i], sh.Units)},
					Kind:  kind, From: f.from.text, Width: f.width.mm(sh.Units), Mill: f.mill.mm(sh.Units), Sheet: f.sheet.text,
					Posts: names, Measured: f.finish.text != "", Version: version,
				}
				for _, r := range posts.EachPass(r) {
					if id := r.ID(); !seen[id] {
						seen[id] = true
						out = append(out, r)
					}
				}
			}
		}
	}
	return out, nil
}

// postFaults are the names among the shop's posts that no writer has.
func postFaults(d shop.Defaults) error {
	var faults source.Faults
	for i, name := range d.Posts {
		if !slices.Contains(posts.PostNames(), name) {
			faults = append(faults, source.Fault{
				Pos: d.PostsAt[i], Key: fmt.Sprintf("defaults.posts[%d]", i+1),
				Have: strconv.Quote(name), Want: source.Choice(posts.PostNames()),
			})
		}
	}
	return faults.Err()
}

// makeOne makes a fixture and writes its files.
func makeOne(ctx context.Context, r posts.Request, dir string, w *witnessFlag) (madeFixture, error) {
	var f *posts.Fixture
	var files map[string][]byte
	var reports map[string]proof.Report
	var err error
	if w.set() {
		x, y := w.mm(r.Shop.Units)
		f, files, reports, err = posts.Finish(ctx, r, writtenIn(dir, r.ID()), x, y)
	} else {
		f, files, reports, err = posts.Make(ctx, r)
	}
	if err != nil {
		return madeFixture{}, err
	}
	m := made(f, reports)
	m.Files, err = writeFiles(dir, f.ID, files)
	return m, err
}

// writtenIn tells of the files that make wrote to a folder before.
func writtenIn(dir, id string) func(ext string) (shelf.File, bool) {
	return func(ext string) (shelf.File, bool) {
		text, err := os.ReadFile(filepath.Join(dir, id+"."+ext))
		return shelf.File{Ext: ext, Size: int64(len(text)), Hash: shelf.Hash(text)}, err == nil
	}
}

// made is what make says of a fixture, but for its files.
func made(f *posts.Fixture, reports map[string]proof.Report) madeFixture {
	r := f.Request
	m := madeFixture{
		ID: f.ID, Kind: f.Kind, Mill: f.Diameter, Thickness: f.Sheet.Thick(), Zero: r.Shop.Defaults.Zero,
		Seconds: f.Seconds, fixture: f,
	}
	for _, rep := range reports {
		m.Gouge = max(m.Gouge, rep.Gouge.Size)
		m.Leftover = max(m.Leftover, rep.Leftover.Size)
	}
	if g := f.Figures; g != nil {
		m.ToolError = &toolError{0.1, g.PerTool[0], g.PerTool[1]}
		for _, o := range g.Standoff {
			m.Standoff = append(m.Standoff, standoff{o.DZ, o.E, o.Gap})
		}
		for _, h := range g.Shims {
			m.Shims = append(m.Shims, shim{h.Thick, h.Stock})
		}
	}
	if c := f.Contact; c != nil {
		m.Nose = &nose{c.From, c.X, c.Support, c.Change}
	}
	m.Witness, m.Finish = measuredViews(f)
	return m
}
