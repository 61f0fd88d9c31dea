package outside

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Paper renders the pages of a PDF in grey at the resolution, in dots per inch, with
// Debian's poppler-utils.
func Paper(t testing.TB, pdf []byte, dpi int) []*image.Gray {
	t.Helper()
	bin, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Fatalf("the PDF renderer is missing: install Debian's poppler-utils (%v)", err)
	}
	dir := t.TempDir()
	in := filepath.Join(dir, "in.pdf")
	if err := os.WriteFile(in, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(bin, "-gray", "-r", strconv.Itoa(dpi), in, filepath.Join(dir, "p")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	names, err := filepath.Glob(filepath.Join(dir, "p-*.pgm"))
	if err != nil || len(names) == 0 {
		t.Fatalf("pdftoppm wrote no page: %v", err)
	}
	slices.Sort(names)
	var out []*image.Gray
	for _, n := range names {
		text, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		var w, h, most int
		if _, err := fmt.Fscanf(bytes.NewReader(text), "P5\n%d %d\n%d", &w, &h, &most); err != nil || most != 255 || len(text) < w*h {
			t.Fatalf("%s is no grey picture: %v", n, err)
		}
		out = append(out, &image.Gray{Pix: text[len(text)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)})
	}
	return out
}

// PaperTexts are the lines of text of a PDF's pages, from the top of each to its foot.
func PaperTexts(t testing.TB, pdf []byte) [][]string {
	t.Helper()
	bin, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Fatalf("the PDF reader is missing: install Debian's poppler-utils (%v)", err)
	}
	cmd := exec.Command(bin, "-layout", "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	var out [][]string
	for _, page := range strings.Split(strings.TrimSuffix(string(text), "\f"), "\f") {
		var lines []string
		for _, l := range strings.Split(page, "\n") {
			if l = strings.TrimSpace(l); l != "" {
				lines = append(lines, l)
			}
		}
		out = append(out, lines)
	}
	return out
}

// CheckBars finds the bars of ten dark and light tenths on a page and gives the length
// of each in mm as printed: from the left edge of its first line to the right edge of
// its last, less the width of the line.
func CheckBars(page *image.Gray, dpi int, line float64) []float64 {
	perMM := float64(dpi) / 25.4
	var out []float64
	last := -1000
	for y := range page.Bounds().Dy() {
		if y-last < int(perMM*4) {
			continue // the same bar
		}
		if l, ok := barIn(edges(page, y), perMM); ok {
			out = append(out, l/perMM-line)
			last = y
		}
	}
	return out
}

// edges are where a row turns from light to dark and back, to a part of a pixel.
func edges(page *image.Gray, y int) []float64 {
	row := page.Pix[y*page.Stride : y*page.Stride+page.Bounds().Dx()]
	var out []float64
	for x := 1; x < len(row); x++ {
		a, b := float64(row[x-1]), float64(row[x])
		if a >= 128 != (b >= 128) {
			out = append(out, float64(x)-0.5+(a-128)/(a-b))
		}
	}
	return out
}

// barIn looks for ten runs of about 10 mm one after the other, the last light one
// closed by a line.
func barIn(at []float64, perMM float64) (float64, bool) {
	for i := 0; i+11 < len(at); i++ {
		ok := true
		for k := range 10 {
			if d := (at[i+k+1] - at[i+k]) / perMM; d < 8 || d > 12 {
				ok = false
				break
			}
		}
		if d := (at[i+11] - at[i+10]) / perMM; ok && d < 1 {
			return at[i+11] - at[i], true
		}
	}
	return 0, false
}

// Ink is the smallest box in mm that holds everything dark on the page, and the page's
// size.
func Ink(page *image.Gray, dpi int) (x0, y0, x1, y1, w, h float64) {
	b := page.Bounds()
	lo, hi := b.Max, b.Min
	for y := range b.Dy() {
		for x, v := range page.Pix[y*page.Stride : y*page.Stride+b.Dx()] {
			if v < 200 {
				lo.X, lo.Y, hi.X, hi.Y = min(lo.X, x), min(lo.Y, y), max(hi.X, x), max(hi.Y, y)
			}
		}
	}
	k := 25.4 / float64(dpi)
	return k * float64(lo.X), k * float64(lo.Y), k * float64(hi.X+1), k * float64(hi.Y+1), k * float64(b.Dx()), k * float64(b.Dy())
}
