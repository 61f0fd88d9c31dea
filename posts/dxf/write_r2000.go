package dxf

import "io"

// writeR2000 writes a whole file as the strictest readers want it: all nine
// tables, both layout blocks, the root dictionary, a handle and an owner on
// everything, and a handle seed above all handles.
func writeR2000(w *words, d *Drawing) {
	// The seed stands in the header, before the handles that it must exceed: a
	// first run into nothing counts them.
	count := newWords(io.Discard)
	bodyR2000(count, d)
	headerR2000(w, d, count.handle())
	bodyR2000(w, d)
}

func headerR2000(w *words, d *Drawing, seed string) {
	ext := d.extent()
	w.section("HEADER")
	w.variable("ACADVER", 1, string(R2000))
	w.variable("DWGCODEPAGE", 3, "ANSI_1252")
	w.pointVariable("INSBASE", 0, 0, true)
	w.pointVariable("EXTMIN", ext.Min[0], ext.Min[1], true)
	w.pointVariable("EXTMAX", ext.Max[0], ext.Max[1], true)
	w.pointVariable("LIMMIN", ext.Min[0], ext.Min[1], false)
	w.pointVariable("LIMMAX", ext.Max[0], ext.Max[1], false)
	w.variable("CLAYER", 8, "0")
	w.variable("CELTYPE", 6, "ByLayer")
	w.variable("CECOLOR", 62, "256")
	w.variable("TEXTSTYLE", 7, "Standard")
	w.variable("DIMSTYLE", 2, "Standard")
	w.variable("LUNITS", 70, "2")
	w.variable("LUPREC", 70, "4")
	w.variable("MEASUREMENT", 70, "1")
	w.variable("INSUNITS", 70, "4")
	w.variable("HANDSEED", 5, seed)
	w.text(0, "ENDSEC")
}

func bodyR2000(w *words, d *Drawing) {
	w.section("CLASSES")
	w.text(0, "ENDSEC")

	w.section("TABLES")
	vport := w.tableR2000("VPORT", 1)
	w.record("VPORT", vport, "AcDbViewportTableRecord")
	w.text(2, "*Active")
	w.int(70, 0)
	viewport(w, d)
	w.text(0, "ENDTAB")

	ltype := w.tableR2000("LTYPE", 2+len(lineTypes))
	for _, name := range append([]string{"ByBlock", "ByLayer"}, lineTypes...) {
		w.record("LTYPE", ltype, "AcDbLinetypeTableRecord")
		w.text(2, name)
		w.dashes(name, R2000)
	}
	w.text(0, "ENDTAB")

	layer := w.tableR2000("LAYER", len(d.layers()))
	for _, l := range d.layers() {
		w.record("LAYER", layer, "AcDbLayerTableRecord")
		w.text(2, l.Name)
		w.int(70, 0)
		w.int(62, l.colour())
		w.text(6, l.line())
		if l.Weight > 0 {
			w.int(370, l.Weight)
		} else {
			w.int(370, -3)
		}
	}
	w.text(0, "ENDTAB")

	style := w.tableR2000("STYLE", 1)
	w.record("STYLE", style, "AcDbTextStyleTableRecord")
	textStyle(w)
	w.text(0, "ENDTAB")
	for _, name := range []string{"VIEW", "UCS"} {
		w.tableR2000(name, 0)
		w.text(0, "ENDTAB")
	}
	appid := w.tableR2000("APPID", 1)
	w.record("APPID", appid, "AcDbRegAppTableRecord")
	w.text(2, "ACAD")
	w.int(70, 0)
	w.text(0, "ENDTAB")

	dimstyle := w.tableR2000("DIMSTYLE", 1)
	w.text(100, "AcDbDimStyleTable")
	w.int(71, 0)
	w.text(0, "DIMSTYLE")
	w.text(105, w.handle()) // the one record whose handle is not group 5
	w.text(330, dimstyle)
	w.text(100, "AcDbSymbolTableRecord")
	w.text(100, "AcDbDimStyleTableRecord")
	w.text(2, "Standard")
	w.int(70, 0)
	w.text(0, "ENDTAB")

	blocks := w.tableR2000("BLOCK_RECORD", 2)
	space := map[string]string{}
	for _, name := range []string{"*Model_Space", "*Paper_Space"} {
		space[name] = w.record("BLOCK_RECORD", blocks, "AcDbBlockTableRecord")
		w.text(2, name)
		w.text(340, "0")
	}
	w.text(0, "ENDTAB")
	w.text(0, "ENDSEC")

	w.section("BLOCKS")
	for _, name := range []string{"*Model_Space", "*Paper_Space"} {
		for _, part := range []string{"BLOCK", "ENDBLK"} {
			w.text(0, part)
			w.text(5, w.handle())
			w.text(330, space[name])
			w.text(100, "AcDbEntity")
			if name == "*Paper_Space" {
				w.int(67, 1)
			}
			w.text(8, "0")
			if part == "ENDBLK" {
				w.text(100, "AcDbBlockEnd")
				continue
			}
			w.text(100, "AcDbBlockBegin")
			w.text(2, name)
			w.int(70, 0)
			w.point(10, 0, 0, true)
			w.text(3, name)
			w.text(1, "")
		}
	}
	w.text(0, "ENDSEC")

	w.section("ENTITIES")
	entitiesR2000(w, d, space["*Model_Space"])
	w.text(0, "ENDSEC")

	w.section("OBJECTS")
	root, group := w.handle(), w.handle()
	w.dictionary(root, "0")
	w.text(3, "ACAD_GROUP")
	w.text(350, group)
	w.dictionary(group, root)
	w.text(0, "ENDSEC")
}

// tableR2000 opens a table and gives its handle.
func (w *words) tableR2000(name string, entries int) string {
	h := w.handle()
	w.text(0, "TABLE")
	w.text(2, name)
	w.text(5, h)
	w.text(330, "0")
	w.text(100, "AcDbSymbolTable")
	w.int(70, entries)
	return h
}

// record opens an entry of the table and gives its handle.
func (w *words) record(kind, table, class string) string {
	h := w.handle()
	w.text(0, kind)
	w.text(5, h)
	w.text(330, table)
	w.text(100, "AcDbSymbolTableRecord")
	w.text(100, class)
	return h
}

func (w *words) dictionary(handle, owner string) {
	w.text(0, "DICTIONARY")
	w.text(5, handle)
	w.text(330, owner)
	w.text(100, "AcDbDictionary")
	w.int(281, 1)
}

// entity opens an entity of model space.
func (w *words) entity(kind, owner, layer, class string) {
	w.text(0, kind)
	w.text(5, w.handle())
	w.text(330, owner)
	w.text(100, "AcDbEntity")
	w.text(8, layer)
	w.text(100, class)
}

func entitiesR2000(w *words, d *Drawing, owner string) {
	for _, l := range d.Layers {
		for _, p := range l.Paths {
			w.polylineR2000(owner, l.Name, p)
		}
		for _, c := range l.Circles {
			w.entity("CIRCLE", owner, l.Name, "AcDbCircle")
			w.point(10, c.Centre[0], c.Centre[1], true)
			w.num(40, c.Radius)
		}
		for _, t := range l.Texts {
			w.entity("TEXT", owner, l.Name, "AcDbText")
			w.lettering(t)
			w.text(100, "AcDbText") // once more before the groups of alignment
		}
	}
}

func (w *words) polylineR2000(owner, layer string, p Path) {
	v := vertices(p.Path)
	switch len(v) {
	case 0:
		return
	case 1:
		w.entity("POINT", owner, layer, "AcDbPoint")
		w.point(10, v[0].X(), v[0].Y(), true)
		return
	}
	w.entity("LWPOLYLINE", owner, layer, "AcDbPolyline")
	w.int(90, len(v))
	w.int(70, closedFlag(p))
	w.num(43, 0)
	if p.Z != 0 {
		w.num(38, p.Z)
	}
	for _, v := range v {
		w.point(10, v.X(), v.Y(), false)
		if v.Bulge != 0 {
			w.fixed(42, v.Bulge, 12)
		}
	}
}
