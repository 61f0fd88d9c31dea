package dxf

// writeR12 writes HEADER, TABLES, BLOCKS and ENTITIES. There are no handles:
// the format made them optional until R13.
func writeR12(w *words, d *Drawing) {
	ext := d.extent()
	w.section("HEADER")
	w.variable("ACADVER", 1, string(R12))
	w.pointVariable("INSBASE", 0, 0, true)
	w.pointVariable("EXTMIN", ext.Min[0], ext.Min[1], true)
	w.pointVariable("EXTMAX", ext.Max[0], ext.Max[1], true)
	w.pointVariable("LIMMIN", ext.Min[0], ext.Min[1], false)
	w.pointVariable("LIMMAX", ext.Max[0], ext.Max[1], false)
	w.variable("CLAYER", 8, "0")
	w.variable("HANDLING", 70, "0")
	w.text(0, "ENDSEC")

	w.section("TABLES")
	w.tableR12("VPORT", 1)
	w.text(0, "VPORT")
	w.text(2, "*ACTIVE")
	w.int(70, 0)
	viewport(w, d)
	w.text(0, "ENDTAB")
	w.tableR12("LTYPE", len(lineTypes))
	for _, name := range lineTypes {
		w.text(0, "LTYPE")
		w.text(2, name)
		w.dashes(name, R12)
	}
	w.text(0, "ENDTAB")
	w.tableR12("LAYER", len(d.layers()))
	for _, l := range d.layers() {
		w.text(0, "LAYER")
		w.text(2, l.Name)
		w.int(70, 0)
		w.int(62, l.colour())
		w.text(6, l.line())
	}
	w.text(0, "ENDTAB")
	w.tableR12("STYLE", 1)
	w.text(0, "STYLE")
	textStyle(w)
	w.text(0, "ENDTAB")
	for _, name := range []string{"VIEW", "UCS"} {
		w.tableR12(name, 0)
		w.text(0, "ENDTAB")
	}
	w.tableR12("APPID", 1)
	w.text(0, "APPID")
	w.text(2, "ACAD")
	w.int(70, 0)
	w.text(0, "ENDTAB")
	w.tableR12("DIMSTYLE", 0)
	w.text(0, "ENDTAB")
	w.text(0, "ENDSEC")

	w.section("BLOCKS")
	w.text(0, "ENDSEC")
	w.section("ENTITIES")
	for _, l := range d.Layers {
		for _, p := range l.Paths {
			w.polylineR12(l.Name, p)
		}
		for _, c := range l.Circles {
			w.text(0, "CIRCLE")
			w.text(8, l.Name)
			w.point(10, c.Centre[0], c.Centre[1], true)
			w.num(40, c.Radius)
		}
		for _, t := range l.Texts {
			w.text(0, "TEXT")
			w.text(8, l.Name)
			w.lettering(t)
		}
	}
	w.text(0, "ENDSEC")
}

func (w *words) tableR12(name string, entries int) {
	w.text(0, "TABLE")
	w.text(2, name)
	w.int(70, entries)
}

func (w *words) polylineR12(layer string, p Path) {
	v := vertices(p.Path)
	switch len(v) {
	case 0:
		return
	case 1:
		w.text(0, "POINT")
		w.text(8, layer)
		w.point(10, v[0].X(), v[0].Y(), true)
		return
	}
	w.text(0, "POLYLINE")
	w.text(8, layer)
	w.int(66, 1)
	w.point(10, 0, 0, false)
	w.num(30, p.Z)
	w.int(70, closedFlag(p))
	for _, v := range v {
		w.text(0, "VERTEX")
		w.text(8, layer)
		w.point(10, v.X(), v.Y(), false)
		w.num(30, p.Z)
		if v.Bulge != 0 {
			w.fixed(42, v.Bulge, 12)
		}
	}
	w.text(0, "SEQEND")
	w.text(8, layer)
}

func closedFlag(p Path) int {
	if p.Closed {
		return 1
	}
	return 0
}

// lettering writes the groups of a TEXT that both versions share.
func (w *words) lettering(t Text) {
	w.point(10, t.Place[0], t.Place[1], true)
	w.num(40, t.Height)
	w.text(1, plain(t.Text))
	if t.Angle != 0 {
		w.num(50, degrees(t.Angle))
	}
}

// textStyle writes the groups of the one text style that both versions share.
func textStyle(w *words) {
	w.text(2, "Standard")
	w.int(70, 0)
	w.num(40, 0)
	w.num(41, 1)
	w.num(50, 0)
	w.int(71, 0)
	w.num(42, 2.5)
	w.text(3, "txt")
	w.text(4, "")
}

// viewport writes the view that shows the whole drawing, a tenth of air round it.
func viewport(w *words, d *Drawing) {
	ext := d.extent()
	wide, high := ext.Max[0]-ext.Min[0], ext.Max[1]-ext.Min[1]
	w.point(10, 0, 0, false)
	w.point(11, 1, 1, false)
	w.point(12, ext.Center()[0], ext.Center()[1], false)
	w.point(13, 0, 0, false)
	w.point(14, 1, 1, false)
	w.point(15, 10, 10, false)
	w.num(16, 0)
	w.num(26, 0)
	w.num(36, 1)
	w.num(17, 0)
	w.num(27, 0)
	w.num(37, 0)
	w.num(40, 1.1*max(high, wide/1.5))
	w.num(41, 1.5)
	w.num(42, 50)
	w.num(43, 0)
	w.num(44, 0)
	w.num(50, 0)
	w.num(51, 0)
	w.int(71, 0)
	w.int(72, 1000)
	w.int(73, 1)
	w.int(74, 3)
	w.int(75, 0)
	w.int(76, 0)
	w.int(77, 0)
	w.int(78, 0)
}
