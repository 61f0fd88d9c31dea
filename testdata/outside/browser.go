package outside

import (
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
)

const cssPerMM = 96 / 25.4

// Browser renders an SVG document of w by h mm in headless Chromium, in pixels
// per mm. A window lower than about 90 mm stays empty.
func Browser(t testing.TB, doc []byte, w, h, perMM float64) image.Image {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.svg"), filepath.Join(dir, "out.png")
	if err := os.WriteFile(in, doc, 0o644); err != nil {
		t.Fatal(err)
	}
	chromium(t, dir, "--force-device-scale-factor="+strconv.FormatFloat(perMM/cssPerMM, 'g', -1, 64),
		"--window-size="+strconv.Itoa(int(math.Ceil(w*cssPerMM)))+","+strconv.Itoa(int(math.Ceil(h*cssPerMM))),
		"--screenshot="+out, "file://"+in)
	f, err := os.Open(out)
	if err != nil {
		t.Fatalf("chromium wrote no picture: %v", err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// Page loads an HTML page in headless Chromium and returns the document as its
// scripts leave it.
func Page(t testing.TB, html []byte) []byte {
	t.Helper()
	dir := t.TempDir()
	in := filepath.Join(dir, "in.html")
	if err := os.WriteFile(in, html, 0o644); err != nil {
		t.Fatal(err)
	}
	return chromium(t, dir, "--dump-dom", "file://"+in)
}

func chromium(t testing.TB, dir string, args ...string) []byte {
	t.Helper()
	bin, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatalf("the browser is missing: install Debian's chromium (%v)", err)
	}
	cmd := exec.Command(bin, append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
		"--user-data-dir=" + filepath.Join(dir, "profile")}, args...)...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("chromium: %v", err)
	}
	return out
}
