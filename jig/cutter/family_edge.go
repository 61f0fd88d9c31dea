package cutter

import (
	"math"

	"blockwright/geom"
)

const quarter = 0.41421356237309503 // tan(π/8): the bulge of a quarter circle

var chamferFamily = &Family{
	Joint: "edge", Shape: "chamfer",
	Sizes: []Size{
		{Name: "largest", Letter: "A", Says: "diameter at the lower end of the edge"},
		{Name: "smallest", Letter: "B", Says: "diameter at the upper end of the edge"},
		{Name: "height", Letter: "E", Says: "height of the edge"},
		{Name: "angle", Letter: "L", Says: "angle of the edge to the axis, degrees", Usual: 45, Plain: true},
	},
	Drawing: `
   axis
    |--B--\            E
    |      \  L
    |---A---\          0
    |  shank below`,
	build: func(m *measured) {
		m.more("largest", "smallest")
		slope := math.Tan(m.size["angle"] * math.Pi / 180)
		width := m.agree("the width of the chamfer", m.radius("largest")-m.radius("smallest"), m.size["height"]*slope, math.Max(0.5, slope), "largest", "smallest", "height")
		m.point(m.radius("smallest")+width, 0)
		m.point(m.radius("smallest"), m.size["height"])
	},
}

var roundOverFamily = &Family{
	Joint: "edge", Shape: "round-over",
	Sizes: []Size{
		{Name: "radius", Letter: "R", Says: "radius that it leaves on the board"},
		{Name: "largest", Letter: "A", Says: "diameter at the lower end of the curve"},
		{Name: "smallest", Letter: "B", Says: "diameter at the upper end of the curve"},
	},
	Drawing: `
   axis
    |--B--|
    |     \   R: hollow
    |      '-.
    |---A-----'-       0
    |  shank below`,
	build: func(m *measured) {
		m.more("largest", "smallest")
		r := m.agree("the radius", m.size["radius"], m.radius("largest")-m.radius("smallest"), 1, "radius", "largest", "smallest")
		m.v = append(m.v, geom.B(m.radius("smallest")+r, 0, -quarter))
		m.point(m.radius("smallest"), r)
	},
}

var coveFamily = &Family{
	Joint: "edge", Shape: "cove",
	Sizes: []Size{
		{Name: "radius", Letter: "R", Says: "radius of the curve"},
		{Name: "largest", Letter: "A", Says: "largest diameter"},
		{Name: "height", Letter: "E", Says: "height of the whole edge, the straight land below the curve included"},
	},
	Drawing: `
   axis
    |__                E
    |  '-.   R: full
    |     \
    |--A---|
    |      |           0
    |  shank below`,
	build: func(m *measured) {
		r, land := m.size["radius"], m.size["height"]-m.size["radius"]
		if land < 0 {
			m.agree("the height", m.size["height"], r, 1, "height", "radius")
			land = 0
		}
		a := m.radius("largest")
		m.point(a, 0)
		m.v = append(m.v, geom.B(a, land, quarter))
		m.point(a-r, land+r)
	},
}

var rebateFamily = &Family{
	Joint: "edge", Shape: "rebate",
	Sizes: []Size{
		{Name: "largest", Letter: "A", Says: "diameter of the edge"},
		{Name: "smallest", Letter: "B", Says: "diameter of the bearing above the edge, or of what is plain there"},
		{Name: "height", Letter: "E", Says: "height of the edge"},
	},
	Drawing: `
   axis
    |-B-|______        E
    |          |
    |----A-----|       0
    |  shank below`,
	build: func(m *measured) {
		m.more("largest", "smallest")
		m.point(m.radius("largest"), 0)
		m.point(m.radius("largest"), m.size["height"])
		m.point(m.radius("smallest"), m.size["height"])
	},
}
