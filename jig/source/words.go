package source

import (
	"fmt"
	"slices"
	"strings"
)

// Text is the text at the key, trimmed of nothing; false without one.
func (s *Section) Text(key string) (string, bool) {
	v, ok := s.Get(key)
	if ok && v.Kind != Text {
		s.file.Fault(v, v.Have(), "text in quotes")
		return "", false
	}
	return v.Text, ok
}

// Label is a text for people to read: not empty, at most max characters, none of
// them a control character.
func (s *Section) Label(key string, max int) (string, bool) {
	t, ok := s.Text(key)
	if !ok {
		return "", false
	}
	v := s.v.Fields[key]
	if why := LabelFault(t, max); why != "" {
		s.file.Fault(v, quoted(t), why)
		return "", false
	}
	return t, true
}

// LabelFault is what a text for people to read lacks: to be not empty, at most max
// characters, all of them printable, without blanks at the ends. "" if nothing.
func LabelFault(t string, max int) string {
	switch {
	case strings.TrimSpace(t) == "":
		return "a text that is not empty"
	case t != strings.TrimSpace(t):
		return "no blanks at either end"
	case printable(t) != t:
		return "printable characters on one line"
	case len([]rune(t)) > max:
		return fmt.Sprintf("at most %d characters", max)
	}
	return ""
}

// OneOf is the text at the key, which must be one of the words.
func (s *Section) OneOf(key string, words ...string) (string, bool) {
	t, ok := s.Text(key)
	if !ok {
		return "", false
	}
	if !slices.Contains(words, t) {
		s.file.Fault(s.v.Fields[key], quoted(t), Choice(words))
		return "", false
	}
	return t, true
}

// Choice is a list of words as a wish: a, b or c.
func Choice(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
