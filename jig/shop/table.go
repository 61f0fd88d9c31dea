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
		LiftLow:       length(s, "lift_low", source.Within(-200, 200)),
		LiftHigh:      length(s, "lift_high", source.Within(-200, 200)),
	}
	t.InsertThickness, _ = s.Length("insert_thickness", source.Over(0, 50))
	t.Pin, _ = s.Length("pin", source.Within(0, 25))
	t.LiftPitch, _ = s.Length("lift_pitch", source.Over(0, 25))
	if lo, hi := both(s, "lift_low", "lift_high"); lo && hi && t.LiftHigh <= t.LiftLow {
		v, _ := s.Get("lift_high")
		f.Fault(v, fmt.Sprintf("%s, not above lift_low", v.Have()), "the lift's highest reach, above lift_low")
	}
	t.LeverPivot, _ = s.Length("lever_pivot", source.Over(0, 3000))
	t.LeverFree, _ = s.Length("lever_free", source.Over(0, 3000))
	switch pivot, free := both(s, "lever_pivot", "lever_free"); {
	case pivot && !free && !s.Has("lever_free"):
		v, _ := s.Get("lever_pivot")
		f.Fault(v, "lever_pivot without lever_free", "both for a pivoting fence, neither for a sliding one")
	case free && !pivot && !s.Has("lever_pivot"):
		v, _ := s.Get("lever_free")
		f.Fault(v, "lever_free without lever_pivot", "both for a pivoting fence, neither for a sliding one")
	case pivot && free && t.LeverPivot > 0 && t.LeverFree > 0 && t.LeverFree <= t.LeverPivot:
		v, _ := s.Get("lever_free")
		f.Fault(v, fmt.Sprintf("%s, not beyond the cutter", v.Have()), "more than lever_pivot")
	}
	s.Done()
	return t
}

// both tells which of two keys could be read.
func both(s *source.Section, a, b string) (bool, bool) {
	_, okA := s.Get(a)
	_, okB := s.Get(b)
	return okA, okB
}
