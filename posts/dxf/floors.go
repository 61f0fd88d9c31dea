package dxf

import (
	"math"
	"sort"

	"blockwright/geom"
)

// A Floor is what lies at one elevation of a layer.
type Floor struct {
	Z      float64 // mm
	Region geom.Region
}

// sameLevel is the difference in mm under which two elevations are one.
const sameLevel = 1e-6

// Floors are the closed boundaries of a layer by their elevation, highest first;
// none without the layer, or where it is empty. It fails as [Drawing.Region] does.
func (d *Drawing) Floors(name, file string) ([]Floor, error) {
	l := d.Layer(name)
	skipped := false
	for _, k := range d.Skipped {
		skipped = skipped || k.touches(name)
	}
	if l == nil || len(l.Paths)+len(l.Circles) == 0 {
		if !skipped {
			return nil, nil
		}
		_, err := d.Region(name, file)
		return nil, err
	}
	var levels []*Layer
	at := func(z float64) *Layer {
		for _, o := range levels {
			if math.Abs(z-level(o)) <= sameLevel {
				return o
			}
		}
		levels = append(levels, &Layer{Name: l.Name})
		return levels[len(levels)-1]
	}
	for _, p := range l.Paths {
		o := at(p.Z)
		o.Paths = append(o.Paths, p)
	}
	for _, c := range l.Circles {
		o := at(c.Z)
		o.Circles = append(o.Circles, c)
	}
	sort.SliceStable(levels, func(i, j int) bool { return level(levels[i]) > level(levels[j]) })
	var out []Floor
	for _, o := range levels {
		one := &Drawing{Layers: []*Layer{o}, Skipped: d.Skipped}
		r, err := one.Region(name, file)
		if err != nil {
			return nil, err
		}
		out = append(out, Floor{level(o), r})
	}
	return out, nil
}

// level is the elevation of what is first on the layer.
func level(l *Layer) float64 {
	if len(l.Paths) > 0 {
		return l.Paths[0].Z
	}
	return l.Circles[0].Z
}
