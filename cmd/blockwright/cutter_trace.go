package main

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
	"blockwright/jig/source"
	"blockwright/jig/trace"
)

// traceFlags are the flags of cutter trace.
type traceFlags struct {
	handle, label nameFlag
	dpi           positiveFlag
	down, joint   choiceFlag
	diameter, top lengthFlag
	thickness     lengthFlag
	show          folderFlag
}

func newCutterTraceCmd(s *streams) *cobra.Command {
	f := &traceFlags{
		down:      choiceFlag{words: trace.Downs, text: "bottom"},
		joint:     choiceFlag{words: cutter.Joints, text: "lock-miter"},
		diameter:  lengthFlag{sign: positive},
		top:       lengthFlag{sign: positive},
		thickness: lengthFlag{sign: positive},
	}
	cmd := &cobra.Command{
		Use:   "trace SCAN...",
		Short: "Measure a cutter's profile on scans of a board cut with it",
		Long: `Trace finds the outline of a board's cut end on a scan, to a fraction of a pixel,
fits lines and arcs to it, finds its centre of symmetry and writes the cutter's file
cutters/HANDLE.toml, with how sure it is. Several pieces in one scan and several scans
are averaged; they must be cut with the cutter at one height, the same face down.

How to make a good scan
  Cut a board of about 19 mm flat on the table, one straight pass with its backer,
  slowly: splinters cost accuracy. Saw a piece 30 to 60 mm long off it, square, on a
  fine saw, so that the cut's section shows clean on the sawn face; sand that face
  lightly on a flat. No dust.
  Lay the sawn section on the glass, the board's faces level with the glass's long
  edge within a few degrees, some background on all sides of the cut.
  Scan at 1200 pixels an inch in grey, sharpening and automatic contrast off, as PNG.
  Light wood: lid open in a dark room, or a black cloth over it. Dark wood: lid shut,
  or white paper. Any background will do that is clearly lighter or darker.
  A photo does as well, if it is square-on, from far away, and --thickness gives the
  scale: the board's thickness by calipers. A scanner's scale may be off by some
  thousandths, too: --thickness sets it right.

Which way up
  Trace must know which face was down on the router table. By default it is the one
  at the bottom of the picture; else say --down top, or left or right for a board that
  stands upright in the picture. Pencil an arrow on the face before you scan. A scanner
  shows the section as you see it, looking at the face that lay on the glass; whether
  the cut end then points left or right makes no difference. Up and down it does: with
  the wrong face down the profile comes out upside down, and nothing in the picture
  tells. --show hatches the face that was taken for it.

What a scan cannot show
  The cut tells neither the cutter's axis nor its end. Radii and heights stay off by a
  shift each, which blocks, coupons and joints do not need. --diameter gives the radii:
  the cutter's diameter where it cut deepest into the board. --top gives the heights:
  how high the cutter's top stood above the table when it cut the board; the cutter's
  height 0 is then the table's at that cut.

The board's frame: z = 0 is the face that was down, z grows upward, x grows into the
board, x = 0 is the outermost point of the cut. How sure the figures are (95 %) does
not include the scanner's scale, or a board that rocked as it was cut. An existing
cutter's file is only replaced if it was traced too; its name, shank and speed are
kept then.

A scan that cannot be used is refused with the reason.

Exit status is 0 when the cutter was written, 1 if a scan cannot be used or a file of
that name is there, 3 for a wrong command line and 4 if a file cannot be read or
written.`,
		Example: `  blockwright cutter trace section.png --name my-lock
  blockwright cutter trace a.png b.png --dpi 1200 --name my-lock --show fit.png
  blockwright cutter trace photo.jpg --thickness 18.95mm --name my-glue --joint edge-glue`,
		Args: atLeast(1, "scan"),
		RunE: func(_ *cobra.Command, args []string) error { return traceCutter(s, f, args) },
	}
	fl := cmd.Flags()
	fl.Var(&f.handle, "name", "`handle` of the cutter to write")
	fl.Var(&f.label, "label", "the cutter's name as shown and engraved; without, from the handle")
	fl.Var(&f.dpi, "dpi", "pixels an inch; without, what the file says")
	fl.Var(&f.down, "down", "the face in the picture that was down on the table: bottom, top, left or right")
	fl.Var(&f.joint, "joint", "the cutter's joint: "+source.Choice(cutter.Joints))
	fl.Var(&f.diameter, "diameter", "the cutter's diameter where it cut deepest into the board")
	fl.Var(&f.top, "top", "height of the cutter's top above the table when it cut the board")
	fl.Var(&f.thickness, "thickness", "thickness of the board by calipers, to set the scale by")
	fl.Var(&f.show, "show", "PNG file to draw the fit over the scan in")
	return cmd
}

// A sureView is how sure a traced profile is, in mm, with 95 % certainty.
type sureView struct {
	Centre  *float64 `json:"centre"`
	Profile float64  `json:"profile"`
}

func viewTraced(c *cutter.Cutter) *sureView {
	if c.Traced == nil {
		return nil
	}
	return &sureView{orNull(c.Traced.Centre), c.Traced.Profile}
}

// tracedWords says how sure a traced profile is.
func tracedWords(t *cutter.Traced, in func(float64) string) string {
	if t.Centre == 0 {
		return fmt.Sprintf("profile sure to %s (95 %%)", in(t.Profile))
	}
	return fmt.Sprintf("centre sure to %s, profile to %s (95 %%)", in(t.Centre), in(t.Profile))
}

// A traceView is a trace as JSON. Lengths are mm.
type traceView struct {
	Cutter  string       `json:"cutter"`
	File    string       `json:"file"`
	Joint   string       `json:"joint"`
	Board   float64      `json:"board_mm"`
	Tilt    float64      `json:"tilt_deg"`
	Profile [][3]float64 `json:"profile_mm"` // x, z, bulge; the board's frame
	Corners []cornerView `json:"corners"`
	Centre  *[2]float64  `json:"centre_mm"` // null for joints without
	Sure    sureView     `json:"sure_mm"`
	SureOf  float64      `json:"sure_board_mm"`
	Known   [2]bool      `json:"known"`
	Pieces  int          `json:"pieces"`
	DPI     [2]float64   `json:"dpi"`
	Noise   float64      `json:"noise_mm"`
	Blur    float64      `json:"blur_mm"`
	Show    string       `json:"show,omitempty"`
	Notes   []string     `json:"notes"`
}

type cornerView struct {
	At   [2]float64 `json:"at_mm"`
	Sure float64    `json:"sure_mm"`
}

func traceCutter(s *streams, f *traceFlags, files []string) error {
	const path = "blockwright cutter trace"
	if f.handle.text == "" {
		return &usageError{errors.New("flag --name is missing; want the handle of the cutter to write"), path}
	}
	if !cutter.ValidHandle(f.handle.text) {
		return &usageError{fmt.Errorf("flag --name: %q; want a handle: %s", f.handle.text, cutter.HandleWant), path}
	}
	if p := f.show.path; p != "" && !strings.EqualFold(filepath.Ext(p), ".png") {
		return &usageError{fmt.Errorf("flag --show: %q; want a file that ends in .png", p), path}
	}
	label := f.label.text
	if label == "" {
		label = "Traced " + f.handle.text
	}
	if fault := source.LabelFault(label, 60); fault != "" {
		return &usageError{fmt.Errorf("flag --label: %q; want %s", label, fault), path}
	}
	sh, err := s.shop()
	if err != nil {
		return err
	}
	file := filepath.Join(sh.Dir, cutter.Folder, f.handle.text+".toml")
	n := trace.Naming{Name: label, Joint: f.joint.text, Diameter: f.diameter.mm(sh.Units), Top: f.top.mm(sh.Units)}
	if err := replaces(file, f, &n); err != nil {
		return err
	}
	var scans []*trace.Scan
	for _, name := range files {
		sc, err := openScan(name)
		if err != nil {
			return err
		}
		scans = append(scans, sc)
	}
	r, err := trace.Trace(scans, trace.Options{
		DPI: float64(f.dpi), Thickness: f.thickness.mm(sh.Units), Down: f.down.text, Joint: f.joint.text,
	})
	if err != nil {
		return err
	}
	c, err := r.Cutter(n)
	if err != nil {
		return err
	}
	c.Handle = f.handle.text
	if f.show.path != "" {
		var pic bytes.Buffer
		if err := png.Encode(&pic, r.Show()); err != nil {
			return err
		}
		base := filepath.Base(f.show.path)
		ext := filepath.Ext(base)
		if _, err := writeFiles(filepath.Dir(f.show.path), strings.TrimSuffix(base, ext), map[string][]byte{ext[1:]: pic.Bytes()}); err != nil {
			return err
		}
	}
	if file, err = c.Write(sh.Dir, true, r.Remarks(c)...); err != nil {
		return err
	}
	v := viewTrace(r, c)
	v.Cutter, v.File, v.Show = f.handle.text, file, f.show.path
	return s.result(v, printTrace(v, c, sh.Units))
}

// replaces tells whether the cutter's file may be written, and keeps what a traced
// file has that no scan shows.
func replaces(file string, f *traceFlags, n *trace.Naming) error {
	if _, err := os.Lstat(file); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	old, err := cutter.Load(file)
	if err != nil || old.Traced == nil {
		return fmt.Errorf("%s exists already and is not traced; want another --name", file)
	}
	n.Shank, n.MaxRPM = old.Shank, old.MaxRPM
	if f.label.text == "" {
		n.Name = old.Name
	}
	return nil
}

func openScan(name string) (*trace.Scan, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: name, Err: errors.New("not a regular file")}
	}
	h, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer h.Close()
	return trace.Open(name, h)
}

func viewTrace(r *trace.Result, c *cutter.Cutter) *traceView {
	v := &traceView{
		Joint: c.Joint, Board: r.Board, Tilt: r.Tilt, Sure: sureView{orNull(r.Sure.Centre), r.Sure.Profile},
		SureOf: r.Sure.Board, Known: c.Known, Pieces: r.Pieces, DPI: r.DPI, Noise: r.Noise, Blur: r.Blur,
		Notes: append([]string{}, r.Notes...),
	}
	for _, q := range r.Profile.V {
		v.Profile = append(v.Profile, [3]float64{q.X(), q.Y(), q.Bulge})
	}
	for _, k := range r.Corners {
		v.Corners = append(v.Corners, cornerView{k.At, k.Sure})
	}
	if r.Centre != nil {
		v.Centre = &[2]float64{r.Centre[0], r.Centre[1]}
	}
	return v
}

// printTrace prints a trace for people.
func printTrace(v *traceView, c *cutter.Cutter, units string) func(io.Writer) error {
	in := func(mm float64) string { return inUnits(mm, units) }
	return func(w io.Writer) error {
		fmt.Fprintln(w, v.File)
		fmt.Fprintf(w, "  %s, traced from %d cut %s at %s pixels an inch\n", c.Name, v.Pieces,
			map[bool]string{true: "end", false: "ends"}[v.Pieces == 1], shortest(v.DPI[0], 1))
		fmt.Fprintf(w, "  board    %s thick, ± %s, tilted %s degrees in the picture\n", in(v.Board), in(v.SureOf), fixed(v.Tilt, 2))
		if v.Centre != nil {
			fmt.Fprintf(w, "  centre   %s into the board, %s above the face that was down\n", in(v.Centre[0]), in(v.Centre[1]))
		}
		fmt.Fprintf(w, "  sure     %s\n", tracedWords(c.Traced, in))
		if u := unknownShifts(v.Known); u != "" {
			fmt.Fprintf(w, "  known    %s\n", u)
		}
		for _, n := range v.Notes {
			fmt.Fprintf(w, "  note     %s\n", n)
		}
		fmt.Fprintln(w, "  corners of the cut, into the board and up from the face that was down:")
		for _, k := range v.Corners {
			fmt.Fprintf(w, "    %s  %s  ± %s\n", in(k.At[0]), in(k.At[1]), in(k.Sure))
		}
		if v.Show != "" {
			fmt.Fprintf(w, "  fit      %s\n", plain(v.Show))
		}
		_, err := fmt.Fprintln(w, "Hold the board's thickness against calipers: it shows whether the scale is right.")
		return err
	}
}
