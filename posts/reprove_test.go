package posts

import (
	"bytes"
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
			assert.Empty(t, Reprove(rec, files, again))
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
		{"ngc", "18000 rpm", "28000 rpm", "is not the program of this fixture"},
		{"frame.nc", "X", "X1", ""},
		{"dxf", "WALL", "WALK", "WALL"},
		{"svg", "Ridge", "Range", "is not the drawing of this fixture"},
	} {
		faults := Reprove(rec, change(tt.ext, tt.from, tt.to), r)
		if assert.NotEmpty(t, faults, tt.ext) {
			assert.Equal(t, rec.ID+"."+tt.ext, faults[0].File)
			assert.Contains(t, faults[0].Why, tt.why)
		}
	}
	less := change("svg", "Ridge", "Ridge")
	delete(less, "svg")
	assert.Empty(t, Reprove(rec, less, r), "the shelf has told that it is missing")
	rec.Setting.Height += 0.01
	assert.Len(t, Reprove(rec, files, r), 1)
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
