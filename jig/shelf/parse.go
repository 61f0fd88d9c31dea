package shelf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"blockwright/jig/source"
)

// The greatest length and number that a record may hold: 10 m, 10^9.
var (
	lengths  = source.Range{Min: -10_000, Max: 10_000, Unit: "mm"}
	sizes    = source.Within(0, 10_000)
	figures  = source.Range{Min: -1e9, Max: 1e9}
	positive = source.Over(0, 10_000)
)

// Parse reads the text of a fixture.toml. name stands in the faults; id is the name
// of the folder, which the record must state; nothing is opened. The error is a
// [source.Faults] with every fault of the file.
func Parse(name, id string, text []byte) (*Record, error) {
	f := source.Open(name, text)
	p := &parser{f}
	top := f.Root()
	r := &Record{}
	if r.ID = p.label(top, "id", 200); r.ID != "" && (r.ID != id || !ValidID(r.ID)) {
		v, _ := top.Get("id")
		f.Fault(v, v.Have(), fmt.Sprintf("the folder's name, %q", id))
	}
	r.Title = p.label(top, "title", 400)
	r.Version = p.label(top, "version", 40)
	r.Made = p.form(top, "made", "a date, as in 2026-11-25", dateForm.MatchString)
	r.Retired, _ = top.Label("retired", 400)
	if s, ok := p.section(top, "inputs"); ok {
		r.Inputs = p.inputs(s)
	}
	if s, ok := p.section(top, "setting"); ok {
		r.Setting = Setting{
			Joint: p.label(s, "joint", 40), Pass: p.label(s, "pass", 40),
			Height: p.number(s, "height", lengths), Fence: p.number(s, "fence", lengths),
			HeightUnknown: p.denied(s, "height_known"), FenceUnknown: p.denied(s, "fence_known"),
		}
		s.Done()
	}
	if s, ok := p.section(top, "milled"); ok {
		r.Milled = Milled{
			Mill: p.label(s, "mill", 40), Diameter: p.number(s, "diameter", positive),
			Sheet: p.label(s, "sheet", 40), Thickness: p.number(s, "thickness", positive),
			Seconds: p.number(s, "seconds", source.Within(0, 1e9)),
			Gouge:   p.number(s, "gouge", lengths), Leftover: p.number(s, "leftover", lengths),
		}
		if _, ok := s.Need("zero", "table or top"); ok {
			r.Milled.Zero, _ = s.OneOf("zero", "table", "top")
		}
		s.Done()
	}
	if s, ok := p.section(top, "cutters"); ok {
		for _, v := range inOrder(s) {
			if hash := p.hash(v.Value); hash != "" {
				r.Cutters = append(r.Cutters, Source{v.key, hash})
			}
		}
		if len(s.Value().Fields) == 0 {
			f.Fault(s.Value(), "no cutter", "the cutter's handle and the SHA-256 of its file")
		}
	}
	if s, ok := p.section(top, "shop"); ok {
		for _, v := range inOrder(s) {
			if v.Kind != source.Text || len(v.Text) > textMax {
				f.Fault(v.Value, v.Have(), "text in quotes")
				continue
			}
			r.Shop = append(r.Shop, Stated{v.key, v.Text})
		}
	}
	if s, ok := p.section(top, "files"); ok {
		r.Files = p.files(s)
	}
	r.Stages = p.stages(top)
	r.History = p.history(top)
	p.once(top, r)
	top.Done()
	if faults := f.Faults(); len(faults) > 0 {
		return nil, faults
	}
	return r, nil
}

// A parser reads the parts of a fixture.toml.
type parser struct{ f *source.File }

func (p *parser) section(s *source.Section, key string) (*source.Section, bool) {
	if _, ok := s.Need(key, "a table, ["+key+"]"); !ok {
		return nil, false
	}
	return s.Section(key)
}

// label is a text that must be there.
func (p *parser) label(s *source.Section, key string, max int) string {
	if _, ok := s.Need(key, "a text in quotes"); !ok {
		return ""
	}
	t, _ := s.Label(key, max)
	return t
}

// form is a text that must be there in a certain form.
func (p *parser) form(s *source.Section, key, want string, good func(string) bool) string {
	v, ok := s.Need(key, want)
	if !ok {
		return ""
	}
	if v.Kind != source.Text || !good(v.Text) {
		p.f.Fault(v, v.Have(), want)
		return ""
	}
	return v.Text
}

// denied tells whether a key that may be left out says false.
func (p *parser) denied(s *source.Section, key string) bool {
	v, ok := s.Bool(key)
	return ok && !v
}

// number is a number that must be there.
func (p *parser) number(s *source.Section, key string, in source.Range) float64 {
	n, ok := s.Number(key, in)
	if !ok {
		s.Need(key, "a number, "+in.String()) // tells of a missing one
	}
	return n
}

func (p *parser) hash(v source.Value) string {
	if v.Kind != source.Text || !validHash(v.Text) {
		p.f.Fault(v, v.Have(), "a SHA-256, 64 hexadecimal digits in quotes")
		return ""
	}
	return v.Text
}

// inputs reads what was asked for.
func (p *parser) inputs(s *source.Section) Inputs {
	i := Inputs{
		Kind: p.label(s, "kind", 40), Cutter: p.label(s, "cutter", 40), Stock: p.number(s, "stock", positive),
	}
	i.With, _ = s.Label("with", 40)
	if _, ok := s.Need("unit", "mm or in"); ok {
		i.Unit, _ = s.OneOf("unit", "mm", "in")
	}
	i.Side, _ = s.Number("side", sizes)
	i.Overlay, _ = s.Number("overlay", sizes)
	i.Land, _ = s.Number("land", sizes)
	i.Skim, _ = s.Number("skim", sizes)
	if v, ok := s.Get("at"); ok {
		i.At = p.numbers(v, 4)
	}
	i.Pass, _ = s.Count("pass", source.Within(0, 100))
	i.Variant, _ = s.Label("variant", 100)
	i.From, _ = s.Label("from", 40)
	i.Width, _ = s.Number("width", sizes)
	i.Mill, _ = s.Number("mill", sizes)
	i.Sheet, _ = s.Label("sheet", 40)
	i.Zero, _ = s.OneOf("zero", "table", "top")
	i.Hold, _ = s.OneOf("hold", "tabs", "screws", "skin")
	i.Finish, _ = s.OneOf("finish", "measured")
	i.Posts = p.posts(s)
	i.Applied = p.correction(s)
	s.Done()
	return i
}

func (p *parser) correction(s *source.Section) Correction {
	var c Correction
	c.Height, _ = s.Number("higher", lengths)
	c.Fence, _ = s.Number("farther", lengths)
	return c
}

// numbers is a list of exactly n numbers.
func (p *parser) numbers(v source.Value, n int) []float64 {
	if v.Kind != source.Array || len(v.Items) != n {
		p.f.Fault(v, v.Have(), fmt.Sprintf("a list of %d numbers", n))
		return nil
	}
	out := make([]float64, n)
	for i, item := range v.Items {
		out[i], _ = p.f.Number(item, lengths)
	}
	return out
}

func (p *parser) posts(s *source.Section) []string {
	const want = "a list of names in quotes"
	v, ok := s.Need("posts", want)
	if !ok {
		return nil
	}
	if v.Kind != source.Array || len(v.Items) == 0 || len(v.Items) > postsMax {
		p.f.Fault(v, v.Have(), want)
		return nil
	}
	var out []string
	for _, item := range v.Items {
		if item.Kind != source.Text || !stageForm.MatchString(item.Text) || slices.Contains(out, item.Text) {
			p.f.Fault(item, item.Have(), "the name of a post, each once")
			continue
		}
		out = append(out, item.Text)
	}
	return out
}

// files reads a table of endings.
func (p *parser) files(s *source.Section) []File {
	var out []File
	for _, v := range inOrder(s) {
		ext := v.key
		if !validExt(ext) {
			p.f.Fault(v.Value, fmt.Sprintf("%q", ext), "the ending of a file, as in dxf or engrave.ngc")
			continue
		}
		file, ok := fileOf(ext, v.Text)
		if v.Kind != source.Text || !ok {
			p.f.Fault(v.Value, v.Have(), fmt.Sprintf("a size of at most %d bytes, a blank and a SHA-256, in quotes", FileSizeMax))
			continue
		}
		out = append(out, file)
	}
	if len(out) > FilesMax {
		p.f.Fault(s.Value(), fmt.Sprintf("%d files", len(out)), fmt.Sprintf("at most %d", FilesMax))
	}
	return out
}

// fileOf reads the size and hash of a file.
func fileOf(ext, text string) (File, bool) {
	size, hash, _ := strings.Cut(text, " ")
	n, err := strconv.ParseInt(size, 10, 64)
	ok := err == nil && n >= 0 && n <= FileSizeMax && strconv.FormatInt(n, 10) == size && validHash(hash)
	return File{ext, n, hash}, ok
}

// stages reads what was done after the milling.
func (p *parser) stages(top *source.Section) []Stage {
	var out []Stage
	for _, s := range top.Sections("stage") {
		stage := Stage{
			Name:    p.form(s, "name", "a name of a-z, 0-9 and -", stageForm.MatchString),
			Version: p.label(s, "version", 40),
			Made:    p.form(s, "made", "a date, as in 2026-11-25", dateForm.MatchString),
		}
		if values, ok := p.section(s, "values"); ok {
			for _, v := range inOrder(values) {
				a := Amount{Key: v.key}
				switch {
				case !keyForm.MatchString(a.Key):
					p.f.Fault(v.Value, fmt.Sprintf("%q", a.Key), "a key of a-z, 0-9 and _")
				case v.Kind == source.Text && v.Text != "" && len(v.Text) <= textMax:
					a.Text = v.Text
				default:
					a.Value, _ = p.f.Number(v.Value, figures)
				}
				stage.Values = append(stage.Values, a)
			}
		}
		if files, ok := p.section(s, "files"); ok {
			stage.Files = p.files(files)
		}
		s.Done()
		out = append(out, stage)
	}
	if len(out) > StagesMax {
		v, _ := top.Get("stage")
		p.f.Fault(v, v.Have(), fmt.Sprintf("at most %d stages", StagesMax))
	}
	return out
}

// history reads what was measured.
func (p *parser) history(top *source.Section) []Reading {
	var out []Reading
	for _, s := range top.Sections("measured") {
		x := Reading{Date: p.form(s, "date", "a date, as in 2026-11-25", dateForm.MatchString), At: p.correction(s)}
		if s.Has("flip") || s.Has("proud") {
			x.Flip = p.number(s, "flip", sizes)
			if _, ok := s.Need("proud", "turned, second, first or none"); ok {
				x.Proud, _ = s.OneOf("proud", "turned", "second", "first", "none")
			}
		}
		x.Tip, x.Tips = s.Number("tip", lengths)
		if !x.Tips && !s.Has("tip") && !s.Has("flip") && !s.Has("proud") {
			p.f.Fault(s.Value(), "neither flip nor tip", "what was measured")
		}
		if v, ok := s.Need("cutter", "a SHA-256"); ok {
			x.Cutter = p.hash(v)
		}
		s.Done()
		out = append(out, x)
	}
	if len(out) > HistoryMax {
		v, _ := top.Get("measured")
		p.f.Fault(v, v.Have(), fmt.Sprintf("at most %d readings", HistoryMax))
	}
	return out
}

// once tells of files and stages that stand twice.
func (p *parser) once(top *source.Section, r *Record) {
	seen := map[string]bool{}
	for _, f := range r.all() {
		if seen[f.Ext] {
			p.f.FaultOf("stage", fmt.Sprintf("a second file %q", f.Ext), "each ending once")
		}
		seen[f.Ext] = true
	}
	for i, s := range r.Stages {
		if slices.ContainsFunc(r.Stages[:i], func(t Stage) bool { return t.Name == s.Name }) {
			p.f.FaultOf("stage", fmt.Sprintf("a second stage %q", s.Name), "each once")
		}
	}
}

// An entry is a key of a table whose keys are free, and its value.
type entry struct {
	key string
	source.Value
}

// inOrder are the entries of a table in the order of the file.
func inOrder(s *source.Section) []entry {
	type place struct {
		at  int
		key string
	}
	order := make([]place, 0, len(s.Value().Fields)) // a value is large to move about
	for k, v := range s.Value().Fields {
		order = append(order, place{v.KeyPos.Offset, k})
	}
	slices.SortFunc(order, func(a, b place) int { return a.at - b.at })
	out := make([]entry, 0, len(order))
	for _, o := range order {
		if v, ok := s.Get(o.key); ok {
			out = append(out, entry{o.key, v})
		}
	}
	return out
}
