package gcode

import "strings"

// commentWidth is where long comments are broken: short enough for every
// controller's line and screen.
const commentWidth = 72

// comment writes a text as comment lines.
func (p *printer) comment(text string) {
	for _, line := range strings.Split(text, "\n") {
		for _, part := range wrap(plain(line), commentWidth) {
			if p.err != nil {
				return
			}
			p.buf = append(append(append(p.buf[:0], '('), part...), ")\n"...)
			_, p.err = p.w.Write(p.buf)
		}
	}
}

// plainRunes are the readings of characters that a comment may not hold: brackets
// would end it or nest (N 3.3.4), ? ! ~ are acted on by grbl, % starts and ends
// programs, # and [ are read by some controllers, and the rest is no ASCII.
var plainRunes = map[rune]string{
	'(': "<", ')': ">", '[': "<", ']': ">", '?': ".", '!': ".", '~': "-", '%': " percent", '#': "no. ", ';': ",",
	'\t': " ", '°': " deg", '×': "x", '–': "-", '—': "-", '−': "-", '±': "+-", '≤': "at most ", '≥': "at least ",
	'½': "1/2", '¼': "1/4", '¾': "3/4", '’': "'", '‘': "'", '“': `"`, '”': `"`, 'µ': "u", 'ø': "o", 'Ø': "O",
	'ä': "ae", 'ö': "oe", 'ü': "ue", 'Ä': "Ae", 'Ö': "Oe", 'Ü': "Ue", 'ß': "ss", 'é': "e", 'è': "e", 'ê': "e", 'à': "a", 'ç': "c",
}

// plain is a text in characters that every dialect's comments may hold.
func plain(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch s, ok := plainRunes[r]; {
		case ok:
			b.WriteString(s)
		case r < ' ' || r > '~':
			b.WriteByte('_')
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimRight(b.String(), " ")
}

// wrap breaks a text at blanks into lines of at most so many characters; a word
// that is longer is cut.
func wrap(text string, width int) []string {
	var out []string
	for len(text) > width {
		cut := strings.LastIndexByte(text[:width+1], ' ')
		if cut <= 0 {
			cut = width
		}
		out = append(out, strings.TrimRight(text[:cut], " "))
		text = strings.TrimLeft(text[cut:], " ")
	}
	return append(out, text)
}
