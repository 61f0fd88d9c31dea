package source

import (
	"bytes"
	"fmt"

	"github.com/pelletier/go-toml/v2/unstable"
)

// depthMax is how deep lists and tables may nest. A shop file needs 3.
const depthMax = 16

// keysMax is how many keys and headers a file may hold. A shop with a hundred
// sheets has a thousand; the decoder's search for repeated keys takes time that
// grows with their square, 10 s for 90,000.
const keysMax = 10_000

// How a table came about decides what may be added to it (TOML 1.0, Table).
const (
	implied  uint8 = iota // as the parent of a [header]: the header may follow
	headed                // by its own [header]
	dotted                // by a key such as a.b = 1
	inline                // written as { … }: complete
	appended              // by [[header]]
)

// expression takes one header or key into the tree and returns the offset of its
// end.
func (r *reading) expression(n *unstable.Node, base int) int {
	keys, offs := r.parts[:0], r.offs[:0]
	end := base
	for it := n.Key(); it.Next(); {
		k := it.Node()
		keys = append(keys, string(k.Data))
		offs = append(offs, base+int(k.Raw.Offset))
		end = base + int(k.Raw.Offset+k.Raw.Length)
	}
	r.parts, r.offs = keys, offs
	r.plain = r.plain && len(keys) == 1
	switch n.Kind {
	case unstable.Table, unstable.ArrayTable:
		r.header(keys, offs, n.Kind == unstable.ArrayTable)
	case unstable.KeyValue:
		var at int
		at, end = r.valueStart(end), 0
		if len(keys) > depthMax {
			r.fault(offs[0], "", fmt.Sprintf("key of %d parts", len(keys)), fmt.Sprintf("at most %d", depthMax))
			return base + int(n.Raw.Offset+n.Raw.Length)
		}
		end = r.assign(r.here, r.prefix, keys, offs, n.Value(), base, at, 0)
	}
	return end
}

// count counts the key or header at off.
func (r *reading) count(off int) {
	if r.keys++; r.keys == keysMax+1 {
		r.fault(off, "", fmt.Sprintf("more than %d keys", keysMax), "fewer")
	}
}

// header makes the table of a [header] or [[header]] the one that keys go to.
func (r *reading) header(keys []string, offs []int, array bool) {
	r.here, r.prefix = map[string]Value{}, "" // after a fault keys go nowhere
	r.count(offs[0])
	if len(keys) > depthMax {
		r.fault(offs[0], "", fmt.Sprintf("header of %d parts", len(keys)), fmt.Sprintf("at most %d", depthMax))
		return
	}
	at, prefix := r.root, ""
	for i, k := range keys {
		last := i == len(keys)-1
		full := join(prefix, k)
		v, there := at[k]
		switch {
		case !there && last && array:
			v = Value{Key: full, Kind: Array, Pos: r.places.at(offs[i]), KeyPos: r.places.at(offs[i]), how: appended}
			v.Items = []Value{r.table(full+"[1]", offs[i], headed)}
			at[k] = v
			at, prefix = v.Items[0].Fields, full+"[1]"
		case !there:
			v = r.table(full, offs[i], implied)
			if last {
				v.how = headed
			}
			at[k] = v
			at, prefix = v.Fields, full
		case v.Kind == Broken:
			return
		case v.Kind == Array && v.how == appended && last && array:
			full = fmt.Sprintf("%s[%d]", full, len(v.Items)+1)
			v.Items = append(v.Items, r.table(full, offs[i], headed))
			at[k] = v
			at, prefix = v.Items[len(v.Items)-1].Fields, full
		case v.Kind == Array && v.how == appended && !last:
			at, prefix = v.Items[len(v.Items)-1].Fields, fmt.Sprintf("%s[%d]", full, len(v.Items))
		case v.Kind == Table && !last && v.how != inline:
			at, prefix = v.Fields, full
		case v.Kind == Table && last && !array && v.how == implied:
			v.how, v.Pos, v.KeyPos = headed, r.places.at(offs[i]), r.places.at(offs[i])
			at[k] = v
			at, prefix = v.Fields, full
		case v.Kind == Table && last && array:
			r.fault(offs[i], full, fmt.Sprintf("[[%s]] although line %d makes it one table", full, v.KeyPos.Line), "[["+full+"]] everywhere")
			return
		case v.Kind == Array && v.how == appended && last:
			r.fault(offs[i], full, fmt.Sprintf("[%s] although line %d has [[%s]]", full, v.KeyPos.Line, full), "[["+full+"]]")
			return
		default:
			r.again(offs[i], full, v)
			return
		}
	}
	r.here, r.prefix = at, prefix
}

func (r *reading) table(key string, off int, how uint8) Value {
	pos := r.places.at(off)
	return Value{Pos: pos, KeyPos: pos, Key: key, Kind: Table, Fields: map[string]Value{}, how: how}
}

// again tells of a key that stands twice.
func (r *reading) again(off int, key string, first Value) {
	r.fault(off, key, fmt.Sprintf("a second time, after line %d", first.KeyPos.Line), "each key once")
}

// assign puts a value at a key, dotted or not, below the table at, and returns
// the offset of the value's end.
func (r *reading) assign(at map[string]Value, prefix string, keys []string, offs []int, n *unstable.Node, base, start, depth int) int {
	r.count(offs[0])
	for i, k := range keys[:len(keys)-1] {
		prefix = join(prefix, k)
		v, there := at[k]
		switch {
		case !there:
			v = r.table(prefix, offs[i], dotted)
			at[k] = v
		case v.Kind == Broken:
			at = map[string]Value{}
			continue
		case v.Kind != Table || v.how != dotted:
			r.again(offs[i], prefix, v)
			at = map[string]Value{}
			continue
		}
		at = v.Fields
	}
	last := len(keys) - 1
	k, key := keys[last], join(prefix, keys[last])
	place := r.places.at(offs[last])
	v := r.value(n, key, base, start, depth)
	v.KeyPos = place
	if first, there := at[k]; there {
		if first.Kind != Broken {
			r.again(offs[last], key, first)
		}
		return v.end
	}
	at[k] = v
	return v.end
}

// value reads the node of a value whose first byte is at start.
func (r *reading) value(n *unstable.Node, key string, base, start, depth int) Value {
	v := Value{Pos: r.places.at(start), Key: key, start: start}
	v.KeyPos = v.Pos
	if n.Kind != unstable.Array && n.Kind != unstable.InlineTable {
		v.Text = string(n.Data)
		v.end = base + int(n.Raw.Offset+n.Raw.Length)
	}
	if r.bad[v.Pos.Line] && v.end > 0 {
		return v // Broken
	}
	switch n.Kind {
	case unstable.String:
		v.Kind = Text
	case unstable.Integer:
		v.Kind = Integer
		r.plain = r.plain && short(n.Data)
	case unstable.Float:
		v.Kind = Float
		r.plain = r.plain && short(n.Data)
	case unstable.Bool:
		v.Kind = Boolean
	case unstable.Array, unstable.InlineTable:
		r.plain = r.plain && n.Kind == unstable.Array
		if depth == depthMax {
			r.fault(start, "", fmt.Sprintf("lists nested deeper than %d", depthMax), "")
		}
		v.end = r.children(&v, n, base, start, depth+1)
	default:
		v.Kind = Date
		r.plain = false
	}
	return v
}

// short tells whether a number is so short, and so written, that it is one.
func short(number []byte) bool {
	for _, c := range number {
		if !(c >= '0' && c <= '9' || c == '.' || c == '-' || c == '+') {
			return false
		}
	}
	return len(number) <= 18
}

// children reads the items of a list or of an inline table. The parser gives no
// place for lists, so the text between the items is skipped over here.
func (r *reading) children(v *Value, n *unstable.Node, base, start, depth int) int {
	off := r.skip(start + 1)
	v.Kind = Array
	if n.Kind == unstable.InlineTable {
		v.Kind, v.how, v.Fields = Table, inline, map[string]Value{}
	}
	for it := n.Children(); it.Next(); {
		c := it.Node()
		switch {
		case depth > depthMax:
			// Told already: only find the end.
			if c.Kind == unstable.KeyValue {
				off = base + int(c.Raw.Offset+c.Raw.Length)
			} else {
				item := Value{end: base + int(c.Raw.Offset+c.Raw.Length)}
				if c.Kind == unstable.Array || c.Kind == unstable.InlineTable {
					item.end = r.children(&item, c, base, off, depth)
				}
				off = item.end
			}
		case c.Kind == unstable.KeyValue:
			var keys []string
			var offs []int
			for k := c.Key(); k.Next(); {
				keys = append(keys, string(k.Node().Data))
				offs = append(offs, base+int(k.Node().Raw.Offset))
				off = base + int(k.Node().Raw.Offset+k.Node().Raw.Length)
			}
			off = r.assign(v.Fields, v.Key, keys, offs, c.Value(), base, r.valueStart(off), depth)
		default:
			item := r.value(c, fmt.Sprintf("%s[%d]", v.Key, len(v.Items)+1), base, off, depth)
			v.Items = append(v.Items, item)
			off = item.end
		}
		off = r.skip(off)
	}
	return off + 1 // past the bracket
}

// skip is the offset of the first byte from off on that is no blank, comma, line
// end or comment.
func (r *reading) skip(off int) int {
	for off < len(r.text) {
		switch r.text[off] {
		case ' ', '\t', '\r', '\n', ',':
			off++
		case '#':
			n := bytes.IndexByte(r.text[off:], '\n')
			if n < 0 {
				return len(r.text)
			}
			off += n
		default:
			return off
		}
	}
	return off
}

// valueStart is the offset of the value behind a key that ends at off.
func (r *reading) valueStart(off int) int {
	off = r.skip(off)
	if off < len(r.text) && r.text[off] == '=' {
		off = r.skip(off + 1)
	}
	return off
}

// join is a dotted key. A part that would not stand there bare is quoted.
func join(prefix, key string) string {
	bare := key != ""
	for i := range len(key) {
		c := key[i]
		bare = bare && (c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_')
	}
	if !bare {
		key = quoted(key)
	}
	if prefix == "" {
		return key
	}
	return prefix + "." + key
}
