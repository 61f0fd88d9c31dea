package shop_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/shop"
)

func TestFind(t *testing.T) {
	top := t.TempDir()
	make := func(parts ...string) string {
		dir := filepath.Join(append([]string{top}, parts...)...)
		require.NoError(t, os.MkdirAll(dir, 0o755))
		return dir
	}
	outer, deep, other, none := make("outer"), make("outer", "a", "b"), make("other"), make("none")
	for _, dir := range []string{outer, other} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, shop.FileName), shop.Start("mm"), 0o644))
	}
	for _, tt := range []struct{ name, start, flag, env, want string }{
		{"here", outer, "", "", outer},
		{"parent", deep, "", "", outer},
		{"environment before parents", deep, "", other, other},
		{"flag before environment", deep, other, outer, other},
	} {
		dir, err := shop.Find(tt.start, tt.flag, tt.env)
		require.NoError(t, err, tt.name)
		require.Equal(t, tt.want, dir, tt.name)
	}
	for _, tt := range [][3]string{{none, "", ""}, {outer, none, ""}, {outer, "", none}, {outer, "", filepath.Join(none, "nowhere")}, {outer, filepath.Join(outer, "shop.toml"), ""}} {
		_, err := shop.Find(tt[0], tt[1], tt[2])
		require.Error(t, err)
		var path *fs.PathError
		require.True(t, errors.Is(err, fs.ErrNotExist) || errors.As(err, &path), "%v", err)
	}
	t.Chdir(deep)
	dir, err := shop.Find("", "", "")
	require.NoError(t, err)
	require.Equal(t, filepath.Join("..", ".."), dir)
	s, err := shop.Load(dir)
	require.NoError(t, err)
	require.Equal(t, dir, s.Dir)
	t.Chdir(outer)
	dir, err = shop.Find("", "", "")
	require.NoError(t, err)
	require.Equal(t, ".", dir)
}
