package cutter

import (
	"fmt"
	"math"
)

// lockMiterFamily: two flanks on one line, and between them a ridge and a neck. The
// half turn about the centre carries each half on the other, so each size of the
// lower half is measured again in the upper one.
var lockMiterFamily = &Family{
	Joint: "lock-miter",
	Sizes: []Size{
		{Name: "largest", Letter: "A", Says: "diameter at the lower end of the edge"},
		{Name: "smallest", Letter: "B", Says: "diameter at the upper end of the edge"},
		{Name: "ridge", Letter: "C", Says: "diameter of the ridge, the land that stands out between the flanks"},
		{Name: "neck", Letter: "D", Says: "diameter of the neck, the land above the ridge that stands in"},
		{Name: "height", Letter: "E", Says: "height of the whole edge"},
		{Name: "flank-to", Letter: "F", Says: "height at which the lower flank ends"},
		{Name: "ridge-from", Letter: "G", Says: "height at which the ridge begins"},
		{Name: "ridge-to", Letter: "H", Says: "height at which the ridge ends"},
		{Name: "neck-from", Letter: "I", Says: "height at which the neck begins"},
		{Name: "neck-to", Letter: "J", Says: "height at which the neck ends"},
		{Name: "flank-from", Letter: "K", Says: "height at which the upper flank begins"},
		{Name: "angle", Letter: "L", Says: "angle of the flanks to the axis, degrees", Usual: 45, Plain: true},
	},
	Drawing: `
   axis        heights, from the lower end
    |--B--\                          E
    |      \  L
    |       \                        K
    |      /                         J
    |--D--|
    |     |____                      I
    |          \____                 H
    |---------C-----|
    |               |                G
    |              /                 F
    |               \
    |                \
    |--------A--------\              0
    |  shank below`,
	build: func(m *measured) {
		s := m.size
		m.more("largest", "smallest")
		m.more("ridge", "neck")
		if !(s["angle"] > 5 && s["angle"] < 85) && m.err == nil {
			m.err = fmt.Errorf("--angle is %g; want degrees from 5 to 85", s["angle"])
		}
		slope := math.Tan(s["angle"] * math.Pi / 180)
		h := s["height"]
		rc := m.agree("the centre's radius", (s["largest"]+s["smallest"])/4, (s["ridge"]+s["neck"])/4, 0.25, "largest", "smallest", "ridge", "neck")
		out := m.agree("how far the flanks reach from the centre", (s["largest"]-s["smallest"])/4, h/2*slope, 0.5*math.Max(1, slope), "largest", "smallest", "height")
		lock := (s["ridge"] - s["neck"]) / 4
		f := m.agree("the end of the lower flank", s["flank-to"], h-s["flank-from"], 1, "flank-to", "flank-from", "height")
		g := m.agree("the beginning of the ridge", s["ridge-from"], h-s["neck-to"], 1, "ridge-from", "neck-to", "height")
		k := m.agree("the end of the ridge", s["ridge-to"], h-s["neck-from"], 1, "ridge-to", "neck-from", "height")
		foot := out - f*slope
		m.point(rc+out, 0)
		m.point(rc+foot, f)
		m.point(rc+lock, g)
		m.point(rc+lock, k)
		m.point(rc-lock, h-k)
		m.point(rc-lock, h-g)
		m.point(rc-foot, h-f)
		m.point(rc-out, h)
	},
}

// drawerLockFamily: a plain land, and above it a tooth.
var drawerLockFamily = &Family{
	Joint: "drawer-lock",
	Sizes: []Size{
		{Name: "land", Letter: "A", Says: "diameter of the plain land below the tooth"},
		{Name: "tooth", Letter: "B", Says: "diameter of the tooth, the largest"},
		{Name: "land-to", Letter: "C", Says: "height at which the plain land ends"},
		{Name: "tooth-from", Letter: "D", Says: "height at which the tooth begins"},
		{Name: "tooth-height", Letter: "E", Says: "height of the tooth alone"},
		{Name: "height", Letter: "F", Says: "height of the whole edge"},
	},
	Drawing: `
   axis        heights, from the lower end
    |____________                    F
    |            |  E: the tooth alone
    |-----B------|
    |           /                    D
    |          |                     C
    |----A-----|
    |          |                     0
    |  shank below`,
	build: func(m *measured) {
		s := m.size
		m.more("tooth", "land")
		from := m.agree("the beginning of the tooth", s["tooth-from"], s["height"]-s["tooth-height"], 1, "tooth-from", "tooth-height", "height")
		m.point(m.radius("land"), 0)
		m.point(m.radius("land"), s["land-to"])
		m.point(m.radius("tooth"), math.Max(from, s["land-to"]))
		m.point(m.radius("tooth"), s["height"])
	},
}

// edgeGlueFamily: ridges and grooves one above the other, between plain ends.
var edgeGlueFamily = &Family{
	Joint: "edge-glue",
	Sizes: []Size{
		{Name: "end", Letter: "A", Says: "diameter at both ends of the edge"},
		{Name: "ridge", Letter: "B", Says: "diameter of the ridges"},
		{Name: "groove", Letter: "C", Says: "diameter of the grooves"},
		{Name: "ridges", Letter: "n", Says: "number of ridges", Plain: true},
		{Name: "pitch", Letter: "D", Says: "height from one ridge to the same place of the next (any, with one ridge)", Usual: 1e-9},
		{Name: "end-to", Letter: "E", Says: "height at which the lower end's land ends"},
		{Name: "ridge-from", Letter: "F", Says: "height at which the lowest ridge begins"},
		{Name: "ridge-to", Letter: "G", Says: "height at which the lowest ridge ends"},
		{Name: "groove-from", Letter: "H", Says: "height at which the lowest groove begins"},
		{Name: "groove-to", Letter: "I", Says: "height at which the lowest groove ends"},
		{Name: "height", Letter: "K", Says: "height of the whole edge"},
	},
	Drawing: `
   axis        heights, from the lower end
    |                                K
    |--A---|
    |     /     ... n ridges, D apart
    |-C--|                           I
    |    |                           H
    |     \____
    |          |                     G
    |----B-----|
    |         /                      F
    |--A---|                         E
    |      |                         0
    |  shank below`,
	build: func(m *measured) {
		s := m.size
		m.more("ridge", "end")
		m.more("end", "groove")
		n := int(math.Round(s["ridges"]))
		if (n < 1 || n > 50 || math.Abs(s["ridges"]-float64(n)) > 1e-9) && m.err == nil {
			m.err = fmt.Errorf("--ridges is %g; want a whole number from 1 to 50", s["ridges"])
			return
		}
		pitch := s["pitch"]
		if n > 1 && pitch < 1e-6 && m.err == nil {
			m.err = fmt.Errorf("edge-glue with %d ridges needs --pitch", n)
			return
		}
		if n > 1 && pitch < s["groove-to"]-s["ridge-from"] && m.err == nil {
			m.err = &Contradiction{fmt.Sprintf("ridges %g mm apart leave no room for ridge and groove, %g mm", pitch, s["groove-to"]-s["ridge-from"]), []string{"pitch", "ridge-from", "groove-to"}}
			return
		}
		h, over := s["height"], float64(n-1)*pitch
		rc := m.agree("the centre's radius", m.radius("end"), (m.radius("ridge")+m.radius("groove"))/2, 0.5, "end", "ridge", "groove")
		lock := (m.radius("ridge") - m.radius("groove")) / 2
		f := m.agree("the beginning of the ridge", s["ridge-from"], h-over-s["groove-to"], 1, "ridge-from", "groove-to", "height")
		g := m.agree("the end of the ridge", s["ridge-to"], h-over-s["groove-from"], 1, "ridge-to", "groove-from", "height")
		m.point(rc, 0)
		m.point(rc, s["end-to"])
		for i := range n {
			at := float64(i) * pitch
			m.point(rc+lock, f+at)
			m.point(rc+lock, g+at)
			m.point(rc-lock, h-over-g+at)
			m.point(rc-lock, h-over-f+at)
		}
		m.point(rc, h-s["end-to"])
		m.point(rc, h)
	},
}
