package posts

import (
	"math"
	"slices"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/jig/shop"
)

// limitNames are the rules that a program states in its head, so that it can be
// held to them again without its shop. Ramps are stated in degrees.
var limitNames = []struct {
	name string
	of   func(*proof.Rules) *float64
}{
	{"through", func(r *proof.Rules) *float64 { return &r.Through }},
	{"safe", func(r *proof.Rules) *float64 { return &r.Safe }},
	{"ramp", func(r *proof.Rules) *float64 { return &r.Ramp }},
	{"step", func(r *proof.Rules) *float64 { return &r.Step }},
	{"side", func(r *proof.Rules) *float64 { return &r.Side }},
	{"tab", func(r *proof.Rules) *float64 { return &r.Tab }},
	{"tabhigh", func(r *proof.Rules) *float64 { return &r.TabHigh }},
	{"feed", func(r *proof.Rules) *float64 { return &r.Feed }},
	{"descend", func(r *proof.Rules) *float64 { return &r.Descend }},
	{"feedlow", func(r *proof.Rules) *float64 { return &r.FeedLow }},
	{"rpmlow", func(r *proof.Rules) *float64 { return &r.RPMLow }},
	{"rpmhigh", func(r *proof.Rules) *float64 { return &r.RPMHigh }},
	{"lostx", func(r *proof.Rules) *float64 { return &r.Play[0] }},
	{"losty", func(r *proof.Rules) *float64 { return &r.Play[1] }},
	{"flute", func(r *proof.Rules) *float64 { return &r.Flute }},
	{"spinup", func(r *proof.Rules) *float64 { return &r.SpinUp }},
}

// What a program is for, as its head states it, by [proof.Kind].
var kindNames = [...]string{proof.Milling: "milling", proof.Engraving: "engraving", proof.Frame: "tracing"}

// What a milling program of a measured fixture is for.
var stageNames = [...]string{route.Whole: kindNames[proof.Milling], route.Roughing: "roughing", route.Finishing: "finishing"}

// mills tells whether programs for the purpose turn an end mill in the sheet.
func mills(purpose string) bool { return slices.Contains(stageNames[:], purpose) }

// penName is what a program for a pen states.
const penName = "drawing"

// limitsOf are the rules as a head's limits.
func limitsOf(r proof.Rules) []gcode.Limit {
	var out []gcode.Limit
	for _, l := range limitNames {
		v := *l.of(&r)
		if l.name == "ramp" {
			v *= 180 / math.Pi
		}
		if v > 0 {
			out = append(out, gcode.Limit{Name: l.name, Value: v})
		}
	}
	if r.Dial {
		out = append(out, gcode.Limit{Name: "dial", Value: 1})
	}
	switch r.Hold {
	case proof.ByTabs:
		out = append(out, gcode.Limit{Name: "tabs", Value: 2})
	case proof.ByScrews:
		out = append(out, gcode.Limit{Name: "screws", Value: 1})
	case proof.Held:
		out = append(out, gcode.Limit{Name: "held", Value: 1})
	case proof.BySkin:
		out = append(out, gcode.Limit{Name: "skin", Value: r.Skin})
	}
	return out
}

// rulesOf are the rules that a head states: those of programs of our own, with
// what it does not state left unchecked. A program that states none is held to
// what is a hazard whoever wrote it.
func rulesOf(h gcode.Head) proof.Rules {
	if len(h.Limits) == 0 {
		return proof.Foreign()
	}
	r := proof.House()
	r.Hold = proof.Unknown
	r.TabHigh = 0
	for _, limit := range h.Limits {
		switch limit.Name {
		case "tabs":
			r.Hold = proof.ByTabs
		case "screws":
			r.Hold = proof.ByScrews
		case "held":
			r.Hold = proof.Held
		case "dial":
			r.Dial = true
		case "skin":
			r.Hold, r.Skin = proof.BySkin, limit.Value
		}
		for _, l := range limitNames {
			if l.name == limit.Name {
				*l.of(&r) = limit.Value
			}
		}
	}
	for _, l := range h.Limits {
		if l.Name == "ramp" {
			// What is stated has six decimals.
			r.Ramp = (l.Value + 1e-6) * math.Pi / 180
		}
	}
	// No shop may go further than this, so a head that states more is wrong.
	most := proof.House()
	r.Through = min(max(r.Through, 0), most.Through)
	r.Ramp = min(r.Ramp, most.Ramp+1e-6*math.Pi/180)
	r.Safe = max(r.Safe, most.Near)
	return r
}

// bind narrows the rules to what the machine can do.
func bind(r *proof.Rules, m shop.Machine) {
	for k, t := range m.Travel {
		if t > 0 {
			r.Travel[k] = narrower(r.Travel[k], t)
		}
	}
	if m.FeedXY > 0 {
		r.Feed = narrower(r.Feed, m.FeedXY)
	}
	if m.FeedZ > 0 {
		r.Descend = narrower(r.Descend, m.FeedZ)
	}
	if m.SpindleHigh > 0 {
		r.RPMLow, r.RPMHigh = max(r.RPMLow, m.SpindleLow), narrower(r.RPMHigh, m.SpindleHigh)
	}
}
