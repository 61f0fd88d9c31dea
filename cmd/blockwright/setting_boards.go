package main

import (
	"slices"

	"blockwright/jig/joint"
)

// mostSpread is the spread in mm of a job's boards above which planing them to one
// thickness is the shorter way. Common practice, no source.
const mostSpread = 0.2

// A boardsView is what one setting does to the measured boards of one job, as JSON.
type boardsView struct {
	Spread float64     `json:"spread_mm"`
	Plane  bool        `json:"plane"` // better planed to one thickness first
	Boards []boardView `json:"boards"`
}

// A boardView is one thickness. The tip is what the board loses of its length.
type boardView struct {
	Stock   float64 `json:"stock_mm"`
	Thinner float64 `json:"thinner_mm"` // than the one set for
	Tip     float64 `json:"tip_mm"`
}

// boardsOf says what the setting, made for the thickest, does to each board.
func boardsOf(set *joint.Setting, stocks []float64) *boardsView {
	sorted := slices.Clone(stocks)
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	thickest := sorted[len(sorted)-1]
	v := &boardsView{Spread: thickest - sorted[0]}
	v.Plane = v.Spread > mostSpread
	for _, t := range sorted {
		f := set.Thicker(t - thickest)
		v.Boards = append(v.Boards, boardView{t, thickest - t, max(0, f.Tips[0].Short)})
	}
	return v
}

// boards says it in words.
func (t *settingText) boards(v *boardsView) {
	if v == nil {
		return
	}
	t.line("The boards of this job")
	t.line("  set for the thickest; from the thinnest to it they spread by %s", t.short(v.Spread))
	for _, b := range v.Boards {
		switch {
		case b.Thinner == 0:
			t.line("  %s  right", t.long(b.Stock))
		case t.corner():
			t.line("  %s  each tip shorter by %s; its corners stay sharp and closed, the box is smaller by that", t.long(b.Stock), t.short(b.Tip))
		case t.set.Joint == "edge":
			t.line("  %s  the profile keeps its place from the face that lay on the table", t.long(b.Stock))
		default:
			t.line("  %s  thinner by %s: its faces stand back by as much", t.long(b.Stock), t.short(b.Thinner))
		}
	}
	if v.Plane {
		t.line("  Plane them to one thickness first: steps of more than %s show on the finished work.", t.short(mostSpread))
	} else {
		t.line("  No need to plane them again: sand the steps after the glue-up.")
	}
	t.line("")
}
