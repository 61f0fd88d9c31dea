package points

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

func TestRead(t *testing.T) {
	got, err := Read("x.csv", []byte("\xef\xbb\xbfradius; height\r\n# a remark\n1,2\n3;4;0.5 # arc\n\t5 6\n\n1e1,0\n2,0\n"), 10)
	require.NoError(t, err)
	assert.Equal(t, []geom.Path{
		{V: []geom.Vertex{geom.V(10, 20), geom.B(30, 40, 0.5), geom.V(50, 60)}},
		{V: []geom.Vertex{geom.V(100, 0), geom.V(20, 0)}},
	}, got)
	for _, tt := range []struct{ text, want string }{
		{"", "x.csv: no two points"},
		{"1,2\n3,x\n", `x.csv:2:3: "x" is no number`},
		{"1,2\n3\n", "x.csv:2:1: 1 numbers"},
		{"1,2\n3,4,1.5\n", "a bulge from -1 to 1"},
		{"r,h\nr,h\n1,2\n", "x.csv:2:1"},
		{"1,2\n1e9,4\n", "a place on a drawing"},
	} {
		_, err := Read("x.csv", []byte(tt.text), 1)
		assert.ErrorContains(t, err, tt.want, "%q", tt.text)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("r,h\n1,2,0.5\n3;4\n\n5 6\n7\t8 # end"))
	f.Fuzz(func(t *testing.T, text []byte) {
		paths, err := Read("x.csv", text, 1)
		if err != nil {
			return
		}
		for _, p := range paths {
			if len(p.V) < 2 || p.V[len(p.V)-1].Bulge != 0 {
				t.Fatal(p)
			}
		}
	})
}
