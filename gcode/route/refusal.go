package route

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Refusal is the error of a plan that cannot be made, as a sentence for any unit.
type Refusal struct{ Why Hint }

// refuse makes a Refusal: each number among the words is a length in mm.
func refuse(text string, words ...any) error {
	var h Hint
	parts := strings.Split(text, "%s")
	for i, part := range parts {
		h.Text += strings.ReplaceAll(part, "%", "%%")
		if i == len(parts)-1 {
			break
		}
		switch v := words[i].(type) {
		case float64:
			h.Text += "%s"
			h.MM = append(h.MM, v)
		case int:
			h.Text += "%s"
			h.MM = append(h.MM, float64(v))
		case Hint:
			h.Text += v.Text
			h.MM = append(h.MM, v.MM...)
		default:
			h.Text += strings.ReplaceAll(fmt.Sprint(v), "%", "%%")
		}
	}
	return &Refusal{h}
}

func (e *Refusal) Error() string {
	words := make([]any, len(e.Why.MM))
	for i, v := range e.Why.MM {
		words[i] = strconv.FormatFloat(math.Round(v*1e3)/1e3, 'f', -1, 64) + " mm"
	}
	return "route: " + fmt.Sprintf(e.Why.Text, words...)
}
