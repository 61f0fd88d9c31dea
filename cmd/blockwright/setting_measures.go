package main

import (
	"math"
	"strings"
)

// measures says what calipers and a straightedge read at the table, for every place
// that cutter or fence take.
func (t *settingText) measures() {
	for i, p := range t.set.Passes {
		if i > 0 && !t.twoFences() {
			continue
		}
		r := t.set.Read(i)
		t.line("To measure at the table%s", map[bool]string{true: ", set for the " + p.Name + " pass"}[t.twoFences()])
		var rows [][]string
		if r.Top != 0 {
			rows = append(rows, []string{"top of the cutting edge above the table", t.long(r.Top)})
		}
		if r.BodyTop > 0 {
			rows = append(rows, []string{"top of the cutter's body above the table", t.long(r.BodyTop)})
		}
		if r.Land != nil {
			rows = append(rows,
				[]string{"widest land out of the fence", t.long(r.Land.Out)},
				[]string{"  that land begins above the table at", t.long(r.Land.From)},
				[]string{"  and ends at", t.long(r.Land.To)})
		}
		t.rows(0, rows)
		switch k := r.Kiss; {
		case k == nil:
		case math.Abs(k.Out) < 5e-4:
			t.line("  The kiss: a straight bar on a piece of the stock, slid to the fence, just touches")
			t.line("  the cutter, turned by hand, %s above the table.", t.short(k.Height))
		default:
			t.line("  %s above the table the cutter stands %s of the fence.", t.short(k.Height),
				t.short(math.Abs(k.Out))+map[bool]string{true: " out", false: " inside"}[k.Out > 0])
		}
		t.line("")
	}
}

// testPieces is the test cut in words.
func (t *settingText) testPieces() {
	words := []string{
		"Two test pieces",
		"  Cut two pieces of the stock flat and pencil the face that lay on the table. Turn one",
		"  over and push the cuts together. If the turned piece stands above the other, the",
		"  cutter is too high; below, too low. Move the cutter by HALF the step.",
	}
	switch t.set.Joint {
	case "drawer-lock":
		words = []string{
			"The test cut",
			"  Cut a front and a side from the real stock and push them together. A line that stays",
			"  open between the side's end and the front's lip: the cutter is too low, raise it by",
			"  what is open. The lip bears before the tooth is home: too high, lower it by what the",
			"  tooth stays off. Then read how far the front stands beyond the side and move the",
			"  front's fence by what is wrong: back, for more cutter, where it stands out too little.",
		}
	case "matched":
		words = []string{
			"Two test pieces",
			"  Cut one with each cutter, the same face down, and push them together on a flat. If the",
			"  second piece stands above the first, its cutter is too low; below, too high. Move the",
			"  second cutter by the WHOLE step. The faces must close; the bottom of the groove stays",
			"  open by the clearance.",
		}
	case "edge":
		words = []string{
			"The test cut",
			"  Cut a piece of the stock and measure the edge from its end and from the face that lay",
			"  on the table. Move fence and cutter by the WHOLE of what is wrong.",
		}
	}
	for _, l := range words {
		t.line("%s", l)
	}
	if t.corner() {
		t.line("  Height first, then the fence: too much cut blunts the tip, too little leaves a land")
		t.line("  on it. Always set for the thickest board.")
	}
	t.line("")
}

func (t *settingText) corner() bool { return t.set.HasCorner() }

func (t *settingText) caution() {
	t.line("Take care")
	for _, l := range strings.Split(cautionsAtTable, "\n") {
		t.line("  %s", l)
	}
	t.speeds()
}
