package dxf

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkWrite(b *testing.B) {
	d := sample(b)
	b.SetBytes(int64(len(write(b, d, R2000))))
	for b.Loop() {
		write(b, d, R2000)
	}
}

func BenchmarkRead(b *testing.B) {
	text := write(b, sample(b), R2000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		_, err := Read("x.dxf", text)
		require.NoError(b, err)
	}
}
