package source

import (
	"bytes"
	"regexp"
	"strings"
	"text/scanner"
	"unicode/utf8"
)

// A line that starts something: a key with its equals sign or a header.
var starts = regexp.MustCompile(`^[ \t]*(?:(?:[A-Za-z0-9_."'-]|[ \t])+=|\[{1,2}[ \t]*[A-Za-z_"'][A-Za-z0-9_."' \t-]*\]{1,2}[ \t]*(?:#.*)?\r?$)`)

// resume is the offset at which reading can go on after a syntax fault at off, in
// the expression that begins at start: the next line that starts something, so
// that the rest of a broken list is not taken for more faults. It is the fault's
// own line if that is none of the expression's.
func (r *reading) resume(start, off int) int {
	if at, ok := r.overrun(start, off); ok {
		return at
	}
	at := off
	for {
		n := bytes.IndexByte(r.text[at:], '\n')
		if n < 0 {
			return len(r.text)
		}
		if at += n + 1; starts.MatchString(r.line(at)) {
			return at
		}
	}
}

// overrun tells whether the expression that begins at start was read on, for want
// of a bracket, into a line that starts something else, and where that begins.
func (r *reading) overrun(start, off int) (at int, ok bool) {
	at = min(off, len(r.text))
	for at > start && r.text[at-1] != '\n' {
		at--
	}
	return at, at > start && starts.MatchString(r.line(at))
}

var (
	keyOf = regexp.MustCompile(`^[ \t]*([A-Za-z0-9_-]+)[ \t]*(=?)[ \t]*`)
	// A header, whole or broken, or a whole one behind a stray character or two.
	headerOf = regexp.MustCompile(`^[ \t]*\[{1,2}[ \t]*([A-Za-z0-9_-]*)|^[^=#\[]{0,3}\[{1,2}[ \t]*([A-Za-z_][A-Za-z0-9_-]*)[ \t]*\]`)
	numeral  = regexp.MustCompile(`^[-+]?[0-9]*[.,/]?[0-9]`)
)

// syntax turns the parser's message about the byte off into a fault, and notes
// the key it broke. The broken expression begins at start.
func (r *reading) syntax(start, off int, message string) Fault {
	first := r.line(start)
	f := Fault{Pos: r.places.at(off)}
	f.Have, f.Want = explain(message, r.line(off))
	switch m := keyOf.FindStringSubmatchIndex(first); {
	case headerOf.MatchString(first):
		// Keys below a broken header belong nowhere.
		m := headerOf.FindStringSubmatch(first)
		inside, _, _ := strings.Cut(first, "#")
		spoil(r.root, "", m[1]+m[2], f.Pos)
		spoil(r.root, "", wordOf(inside), f.Pos)
		r.here, r.prefix = map[string]Value{}, ""
	case m != nil:
		key := first[m[2]:m[3]]
		f.Key = join(r.prefix, key)
		spoil(r.here, r.prefix, key, f.Pos)
		if m[4] == m[5] { // no equals sign where one was due
			name, _, _ := strings.Cut(first, "=")
			spoil(r.here, r.prefix, wordOf(name), f.Pos)
			break
		}
		value := start + m[1]
		if at, over := r.overrun(start, off); over {
			next := r.line(at)
			f.Pos = r.places.at(at + len(next) - len(strings.TrimLeft(next, " \t")))
			f.Have, f.Want = "list still open where "+firstName(next)+" begins", "] at the list's end"
			if strings.HasPrefix(r.line(value), "{") {
				f.Have, f.Want = "table still open where "+firstName(next)+" begins", "} at the table's end"
			}
		} else if have, want, at := r.slip(value, off, message); have != "" {
			f.Pos, f.Have, f.Want = r.places.at(at), have, want
		}
	}
	return f
}

// spoil notes that the key of a table is there but could not be read.
func spoil(table map[string]Value, prefix, key string, pos scanner.Position) {
	if _, there := table[key]; !there && key != "" {
		table[key] = Value{Key: join(prefix, key), Pos: pos, KeyPos: pos}
	}
}

// wordOf is the text less every character that cannot stand in a bare key: what
// inse]rt_opening was meant to be.
func wordOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return -1
	}, s)
}

// firstName is the key or header that a line starts with.
func firstName(line string) string {
	line = strings.TrimLeft(line, " \t")
	if i := strings.IndexAny(line, "=#"); i > 0 {
		line = line[:i]
	}
	return printable(strings.TrimRight(line, " \t"))
}

// line is the text from off to the end of its line.
func (r *reading) line(off int) string {
	rest := r.text[off:]
	if n := bytes.IndexByte(rest, '\n'); n >= 0 {
		rest = rest[:n]
	}
	return strings.TrimRight(string(rest), "\r")
}

// expressionStart is the start of the first line, behind the end of the
// expression before, that is neither blank nor a comment.
func (r *reading) expressionStart(base, end, off int) int {
	at := base
	if end >= 0 {
		at = end + len(r.line(end))
	}
	for at < off {
		switch c := r.text[at]; {
		case c == ' ' || c == '\t' || c == '\r' || c == '\n':
			at++
		case c == '#':
			at += len(r.line(at))
		default:
			return at
		}
	}
	return min(at, off)
}

// slip looks for a usual slip in the value, or the item of a list, round off.
func (r *reading) slip(value, off int, message string) (have, want string, at int) {
	if strings.Contains(message, "string") && !strings.Contains(message, "must be quoted") || strings.Contains(message, "escape") {
		return "", "", 0 // inside quotes
	}
	text := r.line(value)
	further := off > value+len(text) // in a later line of a list
	if further {
		value = bytes.LastIndexByte(r.text[:off], '\n') + 1
	}
	if !further && text != "" && text[0] != '[' && text[0] != '{' && !strings.ContainsAny(text[:max(0, off-value)], "[{") {
		have, want = plainValue(text)
		return have, want, value
	}
	if !further && text == "" && off <= value {
		return "no value", "one behind the equals sign", value
	}
	if strings.Contains(message, "newline") {
		return "", "", 0 // behind the list
	}
	// The item of the list round off.
	const ends = " \t\r\n,[]{}=#"
	from, to := off, off
	for from > value && !strings.ContainsRune(ends, rune(r.text[from-1])) {
		from--
	}
	for to < len(r.text) && !strings.ContainsRune(ends, rune(r.text[to])) {
		to++
	}
	if from < to {
		have, want = plainValue(string(r.text[from:to]))
	}
	return have, want, from
}

// plainValue sees the usual slips in a value that is neither list nor table:
// text without quotes, a number with a unit or a comma.
func plainValue(rest string) (have, want string) {
	word := rest
	if i := strings.Index(word, "#"); i >= 0 {
		word = word[:i]
	}
	word = strings.TrimRight(word, " \t")
	if word == "" {
		return "no value", "one behind the equals sign"
	}
	if r, _ := utf8.DecodeRuneInString(word); strings.ContainsRune("“”„‘’‚«»´`", r) {
		return "typographic quotes, " + printable(word), `straight ones, "`
	} else if r >= utf8.RuneSelf {
		return "", ""
	}
	switch strings.ToLower(word) {
	case "true", "false":
		return printable(word), strings.ToLower(word)
	case "yes", "no", "on", "off":
		return printable(word), "true or false"
	}
	c := word[0]
	switch {
	case c == '"' || c == '\'' || c == '[' || c == '{' || c == '=':
		return "", ""
	case strings.HasPrefix(word, "."), strings.HasPrefix(word, "-."), strings.HasPrefix(word, "+."):
		return printable(word), "a digit before the decimal point"
	case strings.HasSuffix(word, "."):
		return printable(word), "a digit behind the decimal point"
	case numeral.MatchString(word) && strings.Contains(word, ","):
		return printable(word), "a number without commas; the decimal point is a point"
	case numeral.MatchString(word) && strings.ContainsAny(word, `/"abcdfghijklmnopqrstuvwxyz`):
		if _, err := Length(strings.Trim(word, `"`), "mm"); err == nil || strings.HasSuffix(word, `"`) {
			return printable(word), "quotes round a length with a unit or a fraction"
		}
	case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
		return "text without quotes, " + printable(word), `a number, or quotes round text, "` + strings.Trim(printable(word), `"'`) + `"`
	}
	return "", ""
}

// explain says what the parser met and what it wanted, in the terms of a file.
func explain(message, rest string) (have, want string) {
	have = quoted(firstWord(rest))
	if rest == "" {
		have = "end of line"
	}
	for _, e := range []struct{ part, have, want string }{
		{"array is incomplete", "end of file inside a list", "] at the list's end"},
		{"inline table is incomplete", "end of file inside { }", "} at the table's end"},
		{"after array value", "", ", or ] behind the list's item"},
		{"after inline table", "", ", or } behind the table's item"},
		{"unexpected comma", "", "an item before the comma"},
		{"expected value but got", "", "an item before the comma"},
		{"leading zeroes", "", "a number without leading zeros"},
		{"decimal point must", "decimal point without a digit behind it", "a digit"},
		{"exponent must", "exponent without digits", "a digit"},
		{"between underscores", "", "digits on both sides of an underscore"},
		{"close table name", "", "] behind the table's name"},
		{"close array table name", "", "]] behind the table's name"},
		{"'=' after key", "", "= behind the key"},
		{"start of key", "", "a key, a [header] or a # comment"},
		{"expected key but", "end of file", "a key"},
		{"expected value, not end", "end of file", "a value"},
		{"cannot have new lines", "line end inside quotes", "the closing quote on the same line"},
		{"unterminated", "end of file inside quotes", "the closing quote"},
		{"not terminated", "end of file inside quotes", "the closing quotes"},
		{"escape", "", "a valid escape; \\\\ stands for one backslash"},
		{"strings must be quoted", "", "quotes round a text"},
		{"start of value", "", "a number, a text in quotes, true, false or a list"},
		{"expected keyword", "", "a number, a text in quotes, true, false or a list"},
		{"expected digit", "", "a digit"},
		{"expected newline", "", "nothing more on this line"},
		{"nested more than", "lists nested deeper than 16", ""},
	} {
		if strings.Contains(message, e.part) {
			if e.have != "" {
				have = e.have
			}
			return have, e.want
		}
	}
	return have + " (" + message + ")", "TOML"
}

// firstWord is the mark, or the word up to the next mark or blank, that the text
// begins with.
func firstWord(s string) string {
	const marks = " \t,;:[]{}=#"
	s = strings.TrimLeft(s, " \t")
	switch i := strings.IndexAny(s, marks); {
	case i > 0:
		return s[:i]
	case i == 0:
		return s[:1]
	}
	return s
}
