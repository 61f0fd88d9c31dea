package shop

import (
	"fmt"

	"blockwright/jig/source"
)

func readTable(f *source.File, s *source.Section) Table {
	t := Table{
		InsertOpening: length(s, "insert_opening", source.Over(0, 300)),
		FenceWidth:    length(s, "fence_width", source.Over(0, 1000)),
		FenceHeight:   length(s, "fence_height", source.Over(0, 300)),
	}
	t.InsertThickness, _ = s.Length("insert_thickness", source.Over(0, 50))
	t.Pin, _ = s.Length("pin", source.Within(0, 25))
	t.LiftPitch, _ = s.Length("lift_pitch", source.Within(0.01, 25))
	low, okLow := s.NeedLength("lift_low", source.Within(-200, 200))
	high, okHigh := s.NeedLength("lift_high", source.Within(-200, 200))
	if t.LiftLow, t.LiftHigh = low, high; okLow && okHigh && high <= low {
		v, _ := s.Get("lift_high")
		f.Fault(v, fmt.Sprintf("%s, not above lift_low", v.Have()), "the lift's highest reach, above lift_low")
	}
	readLever(f, s, &t)
	s.Done()
	return t
}

// readLever reads the two lengths of a pivoting fence, which belong together.
func readLever(f *source.File, s *source.Section, t *Table) {
	var okPivot, okFree bool
	t.LeverPivot, okPivot = s.Length("lever_pivot", source.Over(0, 3000))
	t.LeverFree, okFree = s.Length("lever_free", source.Over(0, 3000))
	const both = "both for a pivoting fence, neither for a sliding one"
	pivot, _ := s.Get("lever_pivot")
	free, _ := s.Get("lever_free")
	switch {
	case s.Has("lever_pivot") && !s.Has("lever_free"):
		f.Fault(pivot, "lever_pivot without lever_free", both)
	case s.Has("lever_free") && !s.Has("lever_pivot"):
		f.Fault(free, "lever_free without lever_pivot", both)
	case okPivot && okFree && t.LeverFree <= t.LeverPivot:
		f.Fault(free, fmt.Sprintf("%s, not beyond the cutter", free.Have()), "more than lever_pivot")
	}
}
