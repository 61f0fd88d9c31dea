package posts

import (
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"blockwright/jig/shelf"
)

// stated is what the shop says of all that can change the fixture: the router table,
// the machine, the end mills that could cut it, the engraving tool, its sheet, or
// all sheets where one of them can support a gauge, and the defaults. Which posts
// are written does not change any of them.
func stated(r Request) []shelf.Stated {
	s := r.Shop
	out := []shelf.Stated{{Part: "units", Text: s.Units}}
	add := func(part string, v any) { out = append(out, shelf.Stated{Part: part, Text: values(v)}) }
	add("table", s.Table)
	add("machine", s.Machine)
	for _, m := range s.Mills {
		if r.Mill == 0 || math.Abs(m.Diameter-r.Mill) <= 0.005 {
			add("mill "+m.Name, m)
		}
	}
	if s.Engraver != nil {
		add("engraver", *s.Engraver)
	}
	for i, sh := range s.Sheets {
		if sh.Name == r.Sheet || r.Sheet == "" && i == 0 || r.from() == "cutter" {
			add("sheet "+sh.Name, sh)
		}
	}
	d := s.Defaults
	d.Posts, d.PostsAt = nil, nil
	add("defaults", d)
	return out
}

// values are the fields of a struct as a text, "key value, key value", in its order.
// Every field is there, so that none is forgotten that is added later.
func values(v any) string {
	var out []string
	s := reflect.ValueOf(v)
	for i := range s.NumField() {
		if text := valueText(s.Field(i)); text != "" {
			out = append(out, keyOf(s.Type().Field(i).Name)+" "+text)
		}
	}
	return strings.Join(out, ", ")
}

// valueText is a field as a text, "" for an empty list.
func valueText(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		return strconv.FormatFloat(v.Float()+0, 'f', -1, 64)
	case reflect.String:
		return strconv.Quote(v.String())
	case reflect.Array:
		var out []string
		for i := range v.Len() {
			out = append(out, valueText(v.Index(i)))
		}
		return strings.Join(out, " × ")
	case reflect.Slice:
		if v.Len() > 0 {
			return fmt.Sprint(v.Interface())
		}
		return ""
	case reflect.Map:
		m, ok := v.Interface().(map[string]float64)
		if !ok {
			return fmt.Sprint(v.Interface()) // in the order of its keys
		}
		var out []string
		for _, k := range slices.Sorted(maps.Keys(m)) {
			out = append(out, strconv.Quote(k)+" "+strconv.FormatFloat(m[k], 'f', -1, 64))
		}
		return strings.Join(out, " and ")
	}
	return fmt.Sprint(v.Interface())
}

// keyOf is a field's name as the shop's file would have it: StepDown is step_down.
func keyOf(name string) string {
	var b strings.Builder
	runes := []rune(name)
	for i, r := range runes {
		if unicode.IsUpper(r) && i > 0 && !unicode.IsUpper(runes[i-1]) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// A Today is what shop and cutters say now, to hold records against. It may be asked
// from several goroutines, of requests of one shop.
type Today struct {
	mu    sync.Mutex
	known map[string][]shelf.Stated // each part of the shop is put in words once
}

// Changes are the inputs of a recorded fixture that are not what they were, a line
// each. now is the same request today.
func (t *Today) Changes(r *shelf.Record, now Request) []string {
	var out []string
	for i, c := range cuttersOf(now) {
		switch {
		case i >= len(r.Cutters) || r.Cutters[i].Handle != c.Handle:
			out = append(out, "cutter "+c.Handle+" is another one")
		case r.Cutters[i].Hash != c.Hash:
			out = append(out, "the file of cutter "+c.Handle+" changed")
		}
	}
	return append(out, differences(r.Shop, t.stated(now))...)
}

// stated is what the shop says of a request.
func (t *Today) stated(r Request) []shelf.Stated {
	key := fmt.Sprintf("%v %q %t %s %s", r.Mill, r.Sheet, r.from() == "cutter", r.Zero, r.Hold)
	t.mu.Lock()
	defer t.mu.Unlock()
	out, ok := t.known[key]
	if !ok {
		if t.known == nil {
			t.known = map[string][]shelf.Stated{}
		}
		out = stated(r.resolved())
		t.known[key] = out
	}
	return out
}

// differences names what the shop says otherwise than it did.
func differences(was, is []shelf.Stated) []string {
	if slices.Equal(was, is) {
		return nil
	}
	var out []string
	find := func(in []shelf.Stated, part string) (string, bool) {
		for _, s := range in {
			if s.Part == part {
				return s.Text, true
			}
		}
		return "", false
	}
	for _, s := range is {
		old, there := find(was, s.Part)
		switch {
		case !there:
			out = append(out, "shop.toml: "+s.Part+" is new")
		case old != s.Text:
			out = append(out, "shop.toml: "+valueChanges(s.Part, old, s.Text))
		}
	}
	for _, s := range was {
		if _, there := find(is, s.Part); !there {
			out = append(out, "shop.toml: "+s.Part+" is gone")
		}
	}
	if len(out) == 0 {
		out = append(out, "shop.toml: the order of end mills or sheets changed")
	}
	return out
}

// valueChanges names the values of a part that differ.
func valueChanges(part, was, is string) string {
	if !strings.Contains(was, " ") && !strings.Contains(is, " ") {
		return fmt.Sprintf("%s: was %s, is %s", part, was, is)
	}
	a, b := strings.Split(was, ", "), strings.Split(is, ", ")
	if len(a) != len(b) {
		return part + " changed"
	}
	var out []string
	for i := range a {
		if a[i] == b[i] {
			continue
		}
		key, old, _ := strings.Cut(a[i], " ")
		other, now, _ := strings.Cut(b[i], " ")
		if key != other {
			return part + " changed"
		}
		out = append(out, fmt.Sprintf("%s was %s, is %s", key, old, now))
	}
	return part + ": " + strings.Join(out, "; ")
}
