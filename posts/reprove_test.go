package posts

import (
	"bytes"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/cutter"
	"blockwright/jig/shelf"
)

// recorded makes a fixture and reads its record back from its text.
func recorded(t *testing.T, r Request) (*shelf.Record, map[string][]byte) {
	t.Helper()
	f, files, reports, err := Make(t.Context(), r)
	require.NoError(t, err)
	rec := f.Record(reports)
	rec.Made = "2026-11-25"
	for ext, text := range files {
		rec.Files = append(rec.Files, shelf.File{Ext: ext, Size: int64(len(text)), Hash: shelf.Hash(text)})
	}
	back, err := shelf.Parse(shelf.FileName, rec.ID, rec.Text())
	require.NoError(t, err)
	return back, files
}

// What a record asks for is the request that it was made from, and the files hold
// against the part made anew from it.
func TestRecallAndReprove(t *testing.T) {
	samples := fixtures(t)
	for i := range samples {
		if samples[i].name == "block 19" {
			r := samples[i].request
			r.Applied = shelf.Correction{Height: -0.05, Fence: 0.02}
			r.Zero, r.Hold, r.Mill, r.Sheet = "top", "skin", 3.175, r.Shop.Sheets[1].Name
			samples = append(samples, sample{"with all that can be asked", r})
		}
	}
	for _, c := range samples {
		t.Run(c.name, func(t *testing.T) {
			rec, files := recorded(t, c.request)
			find := func(handle string) (*cutter.Cutter, error) {
				require.Equal(t, c.request.Joint.Cutter.Handle, handle)
				return c.request.Joint.Cutter, nil
			}
			again, err := Recall(rec.Inputs, c.request.Shop, find, c.request.Version)
			require.NoError(t, err)
			assert.True(t, again.Same(rec.Inputs))
			assert.Equal(t, c.request.ID(), again.ID())
			assert.Empty(t, new(Today).Changes(rec, again))
			assert.Empty(t, Misstated(rec))
			faults, stale := Reprove(rec, files, again)
			assert.Empty(t, faults)
			assert.Empty(t, stale)
			assert.Empty(t, Reread(rec, files))
		})
	}
}

// A file that was changed is found although its hash was changed with it.
func TestReproveFindsForgeries(t *testing.T) {
	r := fixtures(t)[0].request
	rec, files := recorded(t, r)
	change := func(ext, from, to string) map[string][]byte {
		out := map[string][]byte{}
		for e, text := range files {
			out[e] = text
		}
		require.Contains(t, string(files[ext]), from)
		out[ext] = bytes.Replace(files[ext], []byte(from), []byte(to), -1)
		return out
	}
	for _, tt := range []struct{ ext, from, to, why string }{
		{"ngc", "M3\n", "", "does not pass its proof"},
		{"nc", "F900", "F9000", "does not pass its proof"},
		{"frame.ngc", "Z", "Z-", "does not pass its proof"},
		{"nc", "G54 G61\n", "G54 G61\nG43.1 Z-3\n", "RS452"},
		{"ngc", "G54 G61\n", "G54 G61\nG43 H1\n", "RS452"},
		{"nc", "G54 G61\n", "G54 G61\nG55\n", "RS452"},
		{"ngc", "G54 G61\n", "G54 G61\nM6 T2\n", "RS452"},
		{"ngc", "M0\n", "M0\nG64\n", "RS453"},
		{"ngc", "\nG3 ", "\n/G3 ", "RS454"},
		{"nc", "M30\n", "M30\nG0 X-500\n", "RS455"},
		{"frame.ngc", "M5\n", "S18000 M3\nM5\n", "RS426"},
		{"frame.nc", "M5\n", "S18000 M3\nM5\n", "RS426"}, // its moves are those of frame.ngc, which are proved already
		{"frame.nc", "X", "X1", ""},
		{"dxf", "WALL", "WALK", "WALL"},
	} {
		faults, _ := Reprove(rec, change(tt.ext, tt.from, tt.to), r)
		if assert.NotEmpty(t, faults, tt.ext) {
			assert.Equal(t, rec.ID+"."+tt.ext, faults[0].File)
			assert.Contains(t, faults[0].Why, tt.why)
		}
	}
	// What neither moves nor shapes show may have been written so by another build of
	// this version: it is told, and the fixture is stale.
	for _, tt := range []struct{ ext, from, to string }{
		{"ngc", "18000 rpm", "28000 rpm"}, {"svg", "Ridge", "Range"}, {"html", "Ridge", "Range"},
	} {
		faults, stale := Reprove(rec, change(tt.ext, tt.from, tt.to), r)
		assert.Empty(t, faults)
		assert.Contains(t, stale, "this one writes "+rec.ID+"."+tt.ext+" otherwise")
	}
	less := change("svg", "Ridge", "Ridge")
	delete(less, "svg")
	faults, stale := Reprove(rec, less, r)
	assert.Empty(t, faults, "the shelf has told that it is missing")
	assert.Empty(t, stale)
	rec.Setting.Height += 0.01
	faults, stale = Reprove(rec, files, r)
	assert.Len(t, faults, 1, "the very same files: the record was changed")
	assert.Empty(t, stale)
	// With a file of another build, who is right about the height is not known, but all
	// holds by itself; a program that does not is a fault all the same.
	faults, stale = Reprove(rec, change("svg", "Ridge", "Range"), r)
	assert.Empty(t, faults)
	assert.Contains(t, stale, "otherwise")
	spoiled := change("svg", "Ridge", "Range")
	spoiled["nc"] = bytes.Replace(files["nc"], []byte("F900"), []byte("F9000"), -1)
	faults, _ = Reprove(rec, spoiled, r)
	assert.NotEmpty(t, faults)
}

// What a program states of its own limits does not lift those of the machine that
// the record states.
func TestRereadWithinTheMachine(t *testing.T) {
	rec, files := recorded(t, fixtures(t)[0].request)
	require.Empty(t, Reread(rec, files))
	m := machineOf(rec)
	require.Equal(t, 3000.0, m.FeedXY)
	require.Positive(t, m.Travel[0])
	fast := regexp.MustCompile(`feed=\d+`).ReplaceAll(files["nc"], []byte("feed=9000"))
	fast = bytes.ReplaceAll(fast, []byte("F900"), []byte("F9000"))
	require.NotEqual(t, files["nc"], fast)
	files["nc"] = fast
	faults := Reread(rec, files)
	if assert.NotEmpty(t, faults) {
		assert.Contains(t, faults[0].Why, "9000")
	}
}

// A record whose inputs name another fixture was changed.
func TestMisstated(t *testing.T) {
	samples := fixtures(t)
	i := slices.IndexFunc(samples, func(s sample) bool { return s.request.Kind == "gauge" && s.request.from() == "pin" })
	require.GreaterOrEqual(t, i, 0)
	for _, change := range []func(*shelf.Record){
		func(r *shelf.Record) { r.Inputs.Cutter = "another" },
		func(r *shelf.Record) { r.Inputs.With = "another" },
		func(r *shelf.Record) { r.Inputs.From = "cutter" },
		func(r *shelf.Record) { r.Inputs.Stock = 18 },
		func(r *shelf.Record) { r.Inputs.Kind = "strip" },
		func(r *shelf.Record) { r.Cutters[0].Handle = "another" },
		func(r *shelf.Record) { r.Cutters = append(r.Cutters, r.Cutters[0]) },
		func(r *shelf.Record) { r.Inputs.At = []float64{1} },
	} {
		rec, _ := recorded(t, samples[i].request)
		require.Empty(t, Misstated(rec))
		change(rec)
		faults := Misstated(rec)
		if assert.Len(t, faults, 1) {
			assert.Equal(t, shelf.FileName, faults[0].File)
		}
	}
}

// What changed is named, and what does not matter is not.
func TestChanges(t *testing.T) {
	r := fixtures(t)[0].request
	rec, _ := recorded(t, r)
	s := *r.Shop
	s.Defaults.Posts = []string{"svg"}
	s.Sheets = append(s.Sheets[:1:1], s.Sheets[1:]...)
	s.Sheets[1].ChipLoad = 1 // not its sheet
	r.Shop = &s
	assert.Empty(t, new(Today).Changes(rec, r))
	s.Machine.FeedXY, s.Machine.Accel = 1000, 7
	assert.Equal(t, []string{"shop.toml: machine: feed_xy was 3000, is 1000; accel was 300, is 7"}, new(Today).Changes(rec, r))
	s.Engraver = nil
	assert.Contains(t, new(Today).Changes(rec, r), "shop.toml: engraver is gone")
	c := *r.Joint.Cutter
	c.Hash = shelf.Hash(nil)
	r.Joint.Cutter = &c
	assert.Contains(t, new(Today).Changes(rec, r), "the file of cutter ridge-lock changed")
}
