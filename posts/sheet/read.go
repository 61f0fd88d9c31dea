package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Found is what a sheet says when its bytes are read back.
type Found struct {
	ID       string
	Places   []Place      // name, pass and mm of what is known
	Drawings [][2]float64 // width and height in mm
	Texts    int          // cells, steps and paragraphs that are not empty
}

// Read reads a sheet back. It refuses what is no proper XML, what could run or load
// anything, and a drawing whose size in mm is not the size it is drawn in.
func Read(text []byte) (Found, error) {
	var f Found
	d := xml.NewDecoder(bytes.NewReader(text))
	var said *strings.Builder // where text goes
	var id strings.Builder
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return f, fmt.Errorf("the sheet is no proper XML: %w", err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			if err := harmless(t); err != nil {
				return f, err
			}
			a := attributes(t)
			switch t.Name.Local {
			case "span":
				if a["class"] == "id" {
					said = &id
				}
			case "data":
				mm, err := strconv.ParseFloat(a["value"], 64)
				if err != nil {
					return f, fmt.Errorf("the sheet's %s is no number: %w", a["data-name"], err)
				}
				f.Places = append(f.Places, Place{Name: a["data-name"], For: a["data-for"], MM: mm})
			case "svg":
				size, err := drawingSize(a)
				if err != nil {
					return f, err
				}
				f.Drawings = append(f.Drawings, size)
			}
		case xml.EndElement:
			said = nil
		case xml.CharData:
			if said != nil {
				said.Write(t)
			}
			if len(bytes.TrimSpace(t)) > 0 {
				f.Texts++
			}
		}
	}
	f.ID = id.String()
	return f, nil
}

// harmless refuses elements and attributes that run or load something.
func harmless(t xml.StartElement) error {
	switch t.Name.Local {
	case "script", "iframe", "object", "embed", "link", "img", "image", "use", "base", "form", "foreignObject":
		return fmt.Errorf("the sheet has a %s element", t.Name.Local)
	}
	for _, a := range t.Attr {
		switch n := strings.ToLower(a.Name.Local); {
		case strings.HasPrefix(n, "on"), n == "href", n == "src", n == "style":
			return fmt.Errorf("the sheet has a %s with an attribute %s", t.Name.Local, n)
		}
	}
	return nil
}

func attributes(t xml.StartElement) map[string]string {
	out := map[string]string{}
	for _, a := range t.Attr {
		out[a.Name.Local] = a.Value
	}
	return out
}

// drawingSize is a drawing's size in mm, which must be that of its view box: then a
// unit of the drawing is a millimetre on paper.
func drawingSize(a map[string]string) ([2]float64, error) {
	var size [2]float64
	for i, k := range []string{"width", "height"} {
		v, err := strconv.ParseFloat(strings.TrimSuffix(a[k], "mm"), 64)
		if err != nil || !strings.HasSuffix(a[k], "mm") {
			return size, fmt.Errorf("a drawing's %s is %q; want millimetres", k, a[k])
		}
		size[i] = v
	}
	if want := "0 0 " + strings.TrimSuffix(a["width"], "mm") + " " + strings.TrimSuffix(a["height"], "mm"); a["viewBox"] != want {
		return size, fmt.Errorf("a drawing's view box is %q; want %q", a["viewBox"], want)
	}
	return size, nil
}
