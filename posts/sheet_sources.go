package posts

import "blockwright/posts/sheet"

// care are the cautions: short, and behind what the makers, local rules and training
// say.
func (m sheetMaker) care() sheet.Section {
	s := sheet.Section{Name: "care", Title: "Take care", Care: true, List: []string{
		"Disconnect the power before you touch cutter, collet or fence. Block, gauge and wrench are out before it goes on again.",
		"Feed against the rotation: right to left along the fence. Never between cutter and fence. Push blocks and featherboards; hands " + m.about(75, 3) + " away.",
		"Never the whole depth at once: move the fence in stages, the height stays.",
		"At the milling machine: eye protection, sheet clamped, a new program in the air first, a hand at the stop.",
		"The makers' instructions, local rules and licensed or trained practice come before anything said here.",
	}}
	if m.f.Kind == "trial" {
		s.List = s.List[3:]
		return s
	}
	for _, c := range m.cutters() {
		switch common := c.CommonSpeed(); {
		case c.MaxRPM > 0 && common > 0 && c.MaxRPM > common:
			s.List = append(s.List, c.Name+": its file states at most "+Fixed(c.MaxRPM, 0)+" rpm, common practice for its diameter at most "+Fixed(common, 0)+". Keep to the lower; its own marking comes first.")
		case c.MaxRPM > 0:
			s.List = append(s.List, c.Name+": at most "+Fixed(c.MaxRPM, 0)+" rpm; its own marking comes first.")
		default:
			s.List = append(s.List, c.Name+": read the highest speed off the cutter; its file states none.")
		}
	}
	return s
}

// sources says where the sheet's figures come from.
func (m sheetMaker) sources() sheet.Section {
	s := sheet.Section{Name: "sources", Title: "Where the figures come from", Small: true}
	row := func(what, from string) { s.List = append(s.List, what+": "+from+".") }
	if m.f.Kind != "trial" {
		row("Setting and ranges", "derived from the cutter's file and the stock: where a half turn, or the second cutter, closes the joint; held against a search that does not know it")
		row("Errors, steps, corrections", "derived from both boards' sections; moving by half the step is common practice and follows from them")
		row("Cutter's highest speed", "its file; common practice by diameter, tables differ")
	}
	switch m.f.Kind {
	case "block":
		row("Gaps, shims, error left", "computed from the block as the mill leaves it, held against the cutter")
	case "gauge":
		row("The nose", "derived from the setting and what it touches")
	case "trial":
		row("Sizes of the trial", "common practice, no source; what they tell is derived")
	}
	row("Feed", "rpm × teeth × chip load: SME, Useful formulas for machining; chip load, step-down and factor as the shop states them; spindle speed common practice")
	row("Reliefs in inside corners", "plane geometry; compare Machinery's Handbook on fillets")
	row("Programs", "The NIST RS274NGC Interpreter, NISTIR 6556; grbl 1.1 as its documentation states it")
	row("Cautions", "common practice; compare 29 CFR 1910.213 and EN 847-1")
	row("All else", "common practice, no source: which face goes where, test pieces, tabs, clearances, room for clamps")
	return s
}
