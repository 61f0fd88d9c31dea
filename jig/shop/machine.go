package shop

import (
	"fmt"

	"blockwright/jig/source"
)

func readMachine(f *source.File, s *source.Section) Machine {
	var m Machine
	if _, ok := s.Need("travel", "a list of 3 lengths, [X, Y, Z]"); ok {
		if l, ok := s.Lengths("travel", 3, source.Within(1, 10_000)); ok {
			m.Travel = [3]float64(l)
		}
	}
	m.FeedXY = length(s, "feed_xy", feeds)
	m.FeedZ = length(s, "feed_z", feeds)
	m.Accel = length(s, "accel", source.Range{Min: 1, Max: 50_000, Per: "/s²"})
	if v, ok := s.Need("spindle", "two speeds in rpm, [slowest, fastest]"); ok {
		m.SpindleLow, m.SpindleHigh = spindle(f, v)
	}
	m.Dial, _ = s.Bool("dial")
	if l, ok := s.Lengths("backlash", 2, source.Within(0, 2)); ok {
		m.Backlash = [2]float64(l)
	}
	s.Done()
	return m
}

// feeds and speeds that a machine can have. Slower ones are slips of the pen, and
// the times made of them no figures: derived here.
var (
	feeds  = source.Range{Min: 1, Max: 100_000, Per: "/min"}
	speeds = source.Range{Min: 1, Max: 100_000, Unit: "rpm"}
)

func spindle(f *source.File, v source.Value) (low, high float64) {
	if v.Kind != source.Array || len(v.Items) != 2 {
		f.Fault(v, v.Have(), "two speeds in rpm, [slowest, fastest]")
		return 0, 0
	}
	low, okL := f.Number(v.Items[0], speeds)
	high, okH := f.Number(v.Items[1], speeds)
	if okL && okH && high < low {
		f.Fault(v, fmt.Sprintf("from %s to %s rpm", v.Items[0].Text, v.Items[1].Text), "the slowest speed first")
	}
	return low, high
}
