package shelf

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// full is a record with something at every key.
func full() *Record {
	h := strings.Repeat("0123456789abcdef", 4)
	return &Record{
		ID: "ridge-lock+other-0.75inx12.7in-block-land0.5in", Title: `Block "<script>", 3/4″`, Version: "0.1.0", Made: "2026-11-25", Retired: "worn",
		Inputs: Inputs{
			Kind: "block", Cutter: "ridge-lock", With: "other", Stock: 25.4 / 3, Unit: "in", Side: 12.7, Overlay: 1, Land: 0.5, Skim: 0.1,
			At: []float64{1, -2, 0, 4}, Pass: 1, Variant: "upright", From: "pin", Width: 200, Mill: 3.175, Sheet: "ply 6", Zero: "top", Hold: "skin", Finish: "measured",
			Posts: []string{"dxf", "svg"}, Applied: Correction{-0.05, 0.02},
		},
		Setting: Setting{"lock-miter", "flat", -5.5, 9.5, true, true},
		Milled:  Milled{"3.175 mm", 3.21, "ply 6", 6.1, "table", 123.25, 0.0001, 0.0002},
		Cutters: []Source{{"ridge-lock", h}, {"other", h}},
		Shop:    []Stated{{"units", "in"}, {"mill 2 mm", `diameter 2, name "a\b"`}},
		Files:   []File{{"dxf", 3, Hash([]byte("dxf"))}, {"engrave.ngc", 2, Hash([]byte("en"))}},
		Stages: []Stage{{"finish", "0.2.0", "2026-11-26", []Amount{{Key: "measured", Value: 0.1}, {Key: "mill", Text: "2 mm"}},
			[]File{{"finish.ngc", 1, Hash([]byte("f"))}}}},
		History: []Reading{
			{Date: "2026-11-27", Flip: 0.1, Proud: "turned", Cutter: h},
			{Date: "2026-11-28", Proud: "none", Tip: -0.2, Tips: true, At: Correction{0.1, 0}, Cutter: h},
		},
	}
}

// What is written is read back as the same record, and written as the same bytes.
func TestRoundTrip(t *testing.T) {
	r := full()
	back, err := Parse("fixture.toml", r.ID, r.Text())
	require.NoError(t, err, string(r.Text()))
	require.Equal(t, r, back)
	require.Equal(t, string(r.Text()), string(back.Text()))
}

// plain is a record that Put takes, of a fixture that is whole.
func plain(id string) *Record {
	r := full()
	r.ID, r.Retired, r.Stages, r.History, r.Files = id, "", nil, nil, nil
	return r
}

func texts(s string) map[string][]byte {
	return map[string][]byte{"dxf": []byte("drawing " + s), "ngc": []byte("program " + s)}
}

// Both ways of putting a folder in the place of another.
func TestPut(t *testing.T) {
	for name, swap := range map[string]func(*os.File, string, string) error{
		"exchange": exchange,
		"aside":    func(*os.File, string, string) error { return errNoExchange },
	} {
		t.Run(name, func(t *testing.T) {
			ctx := context.Background()
			s := Open(t.TempDir())
			s.swap = swap
			require.NoError(t, s.Put(ctx, plain("a"), texts("1")))
			reading := Reading{Date: "2026-11-27", Flip: 0.1, Proud: "turned", Cutter: Hash(nil)}
			require.NoError(t, s.Update(ctx, "a", func(r *Record) error {
				r.History = append(r.History, reading)
				r.Retired = "worn"
				return nil
			}))
			require.NoError(t, s.AddStage(ctx, "a", Stage{Name: "finish", Version: "1", Made: "2026-11-25"}, map[string][]byte{"finish.ngc": []byte("f"), "finish.nc": nil}))
			require.NoError(t, s.AddStage(ctx, "a", Stage{Name: "finish", Version: "1", Made: "2026-11-25"}, map[string][]byte{"finish.ngc": []byte("g")}))
			require.NoError(t, os.WriteFile(s.Path("a", "photo.jpg"), []byte("mine"), 0o600))
			require.NoError(t, os.MkdirAll(s.Path("a", "notes", "more"), 0o755))
			r, files, faults, err := s.LoadAll("a")
			require.NoError(t, err)
			require.Empty(t, faults)
			require.Equal(t, "g", string(files["finish.ngc"]))
			require.Equal(t, "worn", r.Retired)
			require.NoFileExists(t, s.Path("a", "a.finish.nc"))

			require.NoError(t, s.Put(ctx, plain("a"), map[string][]byte{"ngc": []byte("2")}))
			r, files, faults, err = s.LoadAll("a")
			require.NoError(t, err)
			require.Empty(t, faults)
			require.Equal(t, map[string][]byte{"ngc": []byte("2")}, files)
			require.Equal(t, []Reading{reading}, r.History)
			require.Empty(t, r.Retired)
			require.Empty(t, r.Stages)

			// What others put there stays; what is no longer a file of it goes.
			entries, err := os.ReadDir(s.Path("a"))
			require.NoError(t, err)
			var names []string
			for _, e := range entries {
				names = append(names, e.Name())
			}
			require.Equal(t, []string{"a.ngc", FileName, "notes", "photo.jpg"}, names)
			all, err := s.Names()
			require.NoError(t, err)
			require.Equal(t, Names{IDs: []string{"a"}}, all)
		})
	}
}

// IDs are no paths, and links do not lead out of the shop.
func TestStaysInShop(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s := Open(dir)
	for _, id := range []string{"", "..", "../x", "a/b", "<script>", "a\nb", "A", ".a", "a..b", strings.Repeat("a", 300)} {
		_, err := s.Load(id)
		require.ErrorAs(t, err, new(*IDError), id)
		require.ErrorAs(t, s.Put(ctx, plain(id), nil), new(*IDError), id)
		require.NotContains(t, err.Error(), "\n")
		require.Less(t, len(err.Error()), 200)
	}
	out := t.TempDir()
	require.NoError(t, Open(out).Put(ctx, plain("a"), texts("1")))
	require.NoError(t, os.RemoveAll(s.Dir()))
	require.NoError(t, os.Symlink(filepath.Join(out, Folder), s.Dir()))
	_, err := s.Load("a")
	require.ErrorContains(t, err, "escapes")
	require.Error(t, s.Put(ctx, plain("b"), texts("1")))
	require.NoDirExists(t, filepath.Join(out, Folder, "b"))

	require.NoError(t, os.Remove(s.Dir()))
	require.NoError(t, s.Put(ctx, plain("b"), texts("1")))
	require.NoError(t, os.Symlink(filepath.Join(out, Folder, "a"), s.Path("a")))
	_, err = s.Load("a")
	require.Error(t, err)
	require.ErrorAs(t, s.Put(ctx, plain("a"), texts("1")), new(*InTheWayError))
	require.NoError(t, os.Remove(s.Path("b", "b.dxf")))
	require.NoError(t, os.Symlink(filepath.Join(out, Folder, "a", "a.dxf"), s.Path("b", "b.dxf")))
	_, _, faults, err := s.LoadAll("b")
	require.NoError(t, err)
	require.Len(t, faults, 1)
}

// Every key of a record is read: one that the writer has and the parser does not know
// is a fault, and the other way round TestRoundTrip has something at every key.
func TestFullIsFull(t *testing.T) {
	var empty func(path string, v reflect.Value)
	empty = func(path string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				empty(path+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Slice:
			require.NotZero(t, v.Len(), path)
		default:
			require.False(t, v.IsZero(), path)
		}
	}
	empty("Record", reflect.ValueOf(*full()))
}

// Every fault of a file is told, each with its place.
func TestFaultsHavePlaces(t *testing.T) {
	r := full()
	text := string(r.Text())
	for _, tt := range []struct{ from, to, want string }{
		{`id = "ridge`, `id = "bridge`, `fixture.toml:3:6: id: "bridge-lock+other-0.75inx12.7in-block-la…"; want the folder's name`},
		{"height = -5.5", `height = "x"`, `setting.height: "x"; want a number`},
		{"height = -5.5\n", "", `setting.height: missing; want a number`},
		{"height_known = false", `height_known = "no"`, `setting.height_known: "no"; want true or false`},
		{"fence = 9.5", "fense = 9.5", `setting.fense: unknown key; want fence`},
		{`dxf = "3 `, `dxf = "-3 `, `files.dxf: "-3 `},
		{`dxf = "3 `, `"../dxf" = "3 `, `the ending of a file`},
		{`"2026-11-25"`, `"2026-13-25"`, `made: "2026-13-25"; want a date`},
		{`proud = "turned"`, `proud = "up"`, `measured[1].proud: "up"; want turned, second, first or none`},
		{`posts = ["dxf", "svg"]`, `posts = []`, `inputs.posts: empty list; want a list of names`},
		{`at = [1, -2, 0, 4]`, `at = [1, -2]`, `inputs.at: list of 2; want a list of 4 numbers`},
		{`finish.ngc"`, `engrave.ngc"`, `a second file "engrave.ngc"; want each ending once`},
		{`name = "finish"`, `name = "Finish"`, `stage[1].name: "Finish"; want a name of a-z, 0-9 and -`},
		{`[shop]`, `[shop]` + "\nx = 3", `shop.x: 3; want text in quotes`},
	} {
		require.Contains(t, text, tt.from)
		_, err := Parse("fixture.toml", r.ID, []byte(strings.Replace(text, tt.from, tt.to, 1)))
		require.Error(t, err, tt.to)
		require.Contains(t, err.Error(), tt.want)
		require.Regexp(t, `^fixture.toml:\d+:\d+: `, err.Error())
	}
}
