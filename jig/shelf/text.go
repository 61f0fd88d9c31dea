package shelf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Text is the record as a fixture.toml: the same bytes for the same record. What
// [Parse] reads from it is the record.
func (r *Record) Text() []byte {
	w := &tomlWriter{}
	w.WriteString("# A fixture of blockwright. 'blockwright shelf verify' tells whether it holds.\n# Lengths are mm.\n")
	w.text("id", r.ID)
	w.text("title", r.Title)
	w.text("version", r.Version)
	w.text("made", r.Made)
	w.given("retired", r.Retired)

	i := r.Inputs
	w.table("[inputs]")
	w.text("kind", i.Kind)
	w.text("cutter", i.Cutter)
	w.given("with", i.With)
	w.number("stock", i.Stock)
	w.text("unit", i.Unit)
	w.some("side", i.Side)
	w.some("overlay", i.Overlay)
	w.some("land", i.Land)
	w.some("skim", i.Skim)
	if i.At != nil {
		fmt.Fprintf(w, "at = [%s]\n", join(i.At, number))
	}
	w.some("pass", float64(i.Pass))
	w.given("variant", i.Variant)
	w.given("from", i.From)
	w.some("width", i.Width)
	w.some("mill", i.Mill)
	w.given("sheet", i.Sheet)
	w.given("zero", i.Zero)
	w.given("hold", i.Hold)
	w.given("finish", i.Finish)
	fmt.Fprintf(w, "posts = [%s]\n", join(i.Posts, quote))
	w.some("higher", i.Applied.Height)
	w.some("farther", i.Applied.Fence)

	w.table("[setting]")
	w.text("joint", r.Setting.Joint)
	w.text("pass", r.Setting.Pass)
	w.number("height", r.Setting.Height)
	if r.Setting.HeightUnknown {
		fmt.Fprintln(w, "height_known = false")
	}
	w.number("fence", r.Setting.Fence)
	if r.Setting.FenceUnknown {
		fmt.Fprintln(w, "fence_known = false")
	}

	m := r.Milled
	w.table("[milled]")
	w.text("mill", m.Mill)
	w.number("diameter", m.Diameter)
	w.text("sheet", m.Sheet)
	w.number("thickness", m.Thickness)
	w.text("zero", m.Zero)
	w.number("seconds", m.Seconds)
	w.number("gouge", m.Gouge)
	w.number("leftover", m.Leftover)

	w.table("[cutters]")
	for _, c := range r.Cutters {
		w.text(c.Handle, c.Hash)
	}
	w.table("[shop]")
	for _, s := range r.Shop {
		w.text(key(s.Part), s.Text)
	}
	w.table("[files] # bytes and SHA-256")
	w.files(r.Files)
	for _, s := range r.Stages {
		w.table("[[stage]]")
		w.text("name", s.Name)
		w.text("version", s.Version)
		w.text("made", s.Made)
		w.table("[stage.values]")
		for _, v := range s.Values {
			if v.Text != "" {
				w.text(v.Key, v.Text)
			} else {
				w.number(v.Key, v.Value)
			}
		}
		w.table("[stage.files] # bytes and SHA-256")
		w.files(s.Files)
	}
	for _, x := range r.History {
		w.table("[[measured]]")
		w.text("date", x.Date)
		if x.Proud != "" {
			w.number("flip", x.Flip)
			w.text("proud", x.Proud)
		}
		if x.Tips {
			w.number("tip", x.Tip)
		}
		w.some("higher", x.At.Height)
		w.some("farther", x.At.Fence)
		w.text("cutter", x.Cutter)
	}
	return w.Bytes()
}

// A tomlWriter writes keys and values a line each.
type tomlWriter struct{ bytes.Buffer }

func (w *tomlWriter) table(head string)            { fmt.Fprintf(w, "\n%s\n", head) }
func (w *tomlWriter) text(key, value string)       { fmt.Fprintf(w, "%s = %s\n", key, quote(value)) }
func (w *tomlWriter) number(key string, v float64) { fmt.Fprintf(w, "%s = %s\n", key, number(v)) }

// given writes a text that is not empty, some a number that is not 0.
func (w *tomlWriter) given(key, value string) {
	if value != "" {
		w.text(key, value)
	}
}

func (w *tomlWriter) some(key string, v float64) {
	if v != 0 {
		w.number(key, v)
	}
}

func (w *tomlWriter) files(fs []File) {
	for _, f := range fs {
		fmt.Fprintf(w, "%s = \"%d %s\"\n", key(f.Ext), f.Size, f.Hash)
	}
}

// number is the shortest text that reads back as the very same number.
func number(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) } // + 0 turns -0 into 0

func join[T any](items []T, text func(T) string) string {
	out := make([]string, len(items))
	for i, v := range items {
		out[i] = text(v)
	}
	return strings.Join(out, ", ")
}

// key is a key, bare where it may be.
func key(s string) string {
	for i := range len(s) {
		c := s[i]
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_') {
			return quote(s)
		}
	}
	return s
}

// quote is a TOML basic string.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f || !unicode.IsPrint(r):
			fmt.Fprintf(&b, `\U%08X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}
