package joint_test

import (
	"testing"

	"blockwright/jig/joint"
)

func BenchmarkSolve(b *testing.B) {
	c := ridge()
	for b.Loop() {
		if _, err := joint.Solve(joint.Request{Cutter: c, Stock: 19}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMinimise(b *testing.B) {
	s, err := joint.Solve(joint.Request{Cutter: ridge(), Stock: 19})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.Minimise()
	}
}

func BenchmarkEffect(b *testing.B) {
	s, err := joint.Solve(joint.Request{Cutter: ridge(), Stock: 19})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.With(0.1, 0.05)
	}
}
