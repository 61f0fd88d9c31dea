package route

import "testing"

// One plate with a window and a bore: lanes, tabs, leads and moves.
func BenchmarkPlan(b *testing.B) {
	jobs, tool := []Job{window()}, mill(3.175)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Plan(jobs, tool); err != nil {
			b.Fatal(err)
		}
	}
}
