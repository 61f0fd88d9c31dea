package source

import (
	"regexp"
	"strings"
)

// A line that starts something: a key with its equals sign or a header.
var starts = regexp.MustCompile(`^[ \t]*(?:(?:[A-Za-z0-9_."'-]|[ \t])+=|\[{1,2}[ \t]*[A-Za-z_"'][A-Za-z0-9_."' \t-]*\]{1,2}[ \t]*(?:#.*)?\r?$)`)

// resume is the offset, past the line of a syntax fault at off, where reading can
// go on: the next line that starts something, so that the rest of a broken list
// is not taken for more faults.
func resume(text []byte, off int) int {
	for {
		n := off
		for n < len(text) && text[n] != '\n' {
			n++
		}
		off = n + 1
		if off >= len(text) {
			return len(text)
		}
		n = off
		for n < len(text) && text[n] != '\n' {
			n++
		}
		if starts.Match(text[off:n]) {
			return off
		}
	}
}

var (
	keyOf    = regexp.MustCompile(`^[ \t]*([A-Za-z0-9_-]+)[ \t]*=[ \t]*`)
	headerOf = regexp.MustCompile(`^[ \t]*\[{1,2}[ \t]*([A-Za-z0-9_-]*)`)
	numeral  = regexp.MustCompile(`^[-+]?[0-9]*[.,/]?[0-9]`)
)

// syntax turns the parser's message about the byte off into a fault, and notes
// the key it broke. The expression at fault begins at or after begin.
func (r *reading) syntax(begin, off int, message string) Fault {
	off = min(off, len(r.text))
	lineStart := func(at int) int {
		for at > 0 && r.text[at-1] != '\n' {
			at--
		}
		return at
	}
	line := func(at int) string {
		s, _, _ := strings.Cut(string(r.text[at:]), "\n")
		return strings.TrimRight(s, "\r")
	}
	// Which key does it belong to? The last one that starts between begin and off.
	key, value := "", -1
	for at := lineStart(off); at >= begin || at == lineStart(off); at = lineStart(at - 1) {
		if m := keyOf.FindStringSubmatchIndex(line(at)); m != nil {
			key, value = line(at)[m[2]:m[3]], at+m[1]
			break
		}
		if m := headerOf.FindStringSubmatch(line(at)); m != nil && at == lineStart(off) && begin <= at && onlyHeader(message) {
			// Keys below a broken header belong nowhere.
			if _, there := r.root[m[1]]; !there && m[1] != "" {
				r.root[m[1]] = Value{Key: m[1]}
			}
			r.here, r.prefix = map[string]Value{}, ""
			break
		}
		if at == 0 {
			break
		}
	}
	f := Fault{Pos: r.places.at(off)}
	if key != "" {
		f.Key = join(r.prefix, key)
		if _, there := r.here[key]; !there {
			r.here[key] = Value{Key: f.Key, Pos: f.Pos, KeyPos: f.Pos}
		}
	}
	token := line(min(off, len(r.text)))
	f.Have, f.Want = explain(message, token)
	if value >= 0 && lineStart(value) == lineStart(off) && value <= off {
		if have, want := plainValue(line(value)); have != "" {
			f.Pos, f.Have, f.Want = r.places.at(value), have, want
		}
	}
	return f
}

func onlyHeader(message string) bool {
	return strings.Contains(message, "table name") || strings.Contains(message, "key") || strings.Contains(message, "newline")
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
		return "text without quotes, " + printable(word), `quotes round it, "` + strings.Trim(printable(word), `"'`) + `"`
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

// firstWord is the start of the text up to a blank.
func firstWord(s string) string {
	s = strings.TrimLeft(s, " \t")
	if i := strings.IndexAny(s, " \t"); i > 0 {
		return s[:i]
	}
	return s
}
