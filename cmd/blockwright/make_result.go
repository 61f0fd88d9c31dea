package main

import (
	"blockwright/gcode/proof"
	"blockwright/jig/joint"
	"blockwright/jig/shelf"
	"blockwright/posts"
)

// A madeFixture is a line of the result.
type madeFixture struct {
	ID        string   `json:"id"`
	Kind      string   `json:"kind"`
	Files     []string `json:"files"`
	Mill      float64  `json:"mill_mm"`
	Thickness float64  `json:"thickness_mm"`
	Zero      string   `json:"zero"`
	Gouge     float64  `json:"gouge_mm"`
	Leftover  float64  `json:"leftover_mm"`
	Seconds   float64  `json:"seconds"`

	Kept      bool            `json:"kept"` // it stood on the shelf as asked for
	Corrected *correctionView `json:"corrected,omitempty"`
	Offer     *correctionView `json:"offer,omitempty"`    // of another correction, by what was measured
	Warnings  []string        `json:"warnings,omitempty"` // of the setting, where it was made
	Unread    bool            `json:"unread,omitempty"`   // the fixture.toml of what stood there could not be read

	ToolError *toolError `json:"tool_error,omitempty"`
	Standoff  []standoff `json:"standoff,omitempty"`
	Shims     []shim     `json:"shims,omitempty"`
	Nose      *nose      `json:"nose,omitempty"`

	Witness *witnessView `json:"witness,omitempty"`
	Finish  *finishView  `json:"finish,omitempty"`

	title    string
	warnings []joint.Message
	fixture  *posts.Fixture // nil where it was kept, or only a line is told of it
}

// A correctionView is by how much block or gauge set the cutter otherwise than
// computed.
type correctionView struct {
	Height float64 `json:"height_mm"` // higher
	Fence  float64 `json:"fence_mm"`  // the axis farther behind the fence's face: less cutter
}

// viewCorrection is the correction, nil for none.
func viewCorrection(c shelf.Correction) *correctionView {
	if c.None() {
		return nil
	}
	return &correctionView{c.Height, c.Fence}
}

// A toolError is what the setting is off by when the mill cuts Wider than stated.
type toolError struct {
	Wider  float64 `json:"wider_mm"`
	Height float64 `json:"height_mm"`
	Fence  float64 `json:"fence_mm"`
}

// A standoff is the gap left at the fence with the block slid home.
type standoff struct {
	DZ  float64 `json:"dz_mm"`
	E   float64 `json:"e_mm"`
	Gap float64 `json:"gap_mm"`
}

// A shim under the block and the same at the fence sets for a thicker stock.
type shim struct {
	Shim  float64 `json:"shim_mm"`
	Stock float64 `json:"stock_mm"`
}

type nose struct {
	From    string  `json:"from"`
	X       float64 `json:"x_mm"`
	Support string  `json:"support"`
	Change  float64 `json:"change_mm"`
}

type notMade struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

type makeResult struct {
	Fixtures []madeFixture `json:"fixtures"`
	Failed   []notMade     `json:"failed"`

	sizes [2]float64 // of the witness, as measured
}

// viewMade is what make tells of a fixture that it made.
func viewMade(f *posts.Fixture, reports map[string]proof.Report) madeFixture {
	m := madeFixture{
		ID: f.ID, Kind: f.Kind, Mill: f.Diameter, Thickness: f.Sheet.Thick(), Zero: f.Request.Shop.Defaults.Zero,
		Seconds: f.Seconds, Corrected: viewCorrection(f.Request.Applied), title: f.Title, fixture: f,
	}
	for _, rep := range reports {
		m.Gouge = max(m.Gouge, rep.Gouge.Size)
		m.Leftover = max(m.Leftover, rep.Leftover.Size)
	}
	if g := f.Figures; g != nil {
		m.ToolError = &toolError{0.1, g.PerTool[0], g.PerTool[1]}
		for _, o := range g.Standoff {
			m.Standoff = append(m.Standoff, standoff{o.DZ, o.E, o.Gap})
		}
		for _, h := range g.Shims {
			m.Shims = append(m.Shims, shim{h.Thick, h.Stock})
		}
	}
	if c := f.Contact; c != nil {
		m.Nose = &nose{c.From, c.X, c.Support, c.Change}
	}
	if f.Kind != "trial" {
		m.warnings = f.Setting.Warnings
	}
	for _, w := range m.warnings {
		m.Warnings = append(m.Warnings, w.String())
	}
	m.Witness, m.Finish = measuredViews(f)
	return m
}

// viewKept is what make tells of a fixture that stood on the shelf as asked for.
func viewKept(r *shelf.Record) madeFixture {
	return madeFixture{
		ID: r.ID, Kind: r.Inputs.Kind, Mill: r.Milled.Diameter, Thickness: r.Milled.Thickness, Zero: r.Milled.Zero,
		Gouge: r.Milled.Gouge, Leftover: r.Milled.Leftover, Seconds: r.Milled.Seconds,
		Kept: true, Corrected: viewCorrection(r.Inputs.Applied), title: r.Title,
	}
}
