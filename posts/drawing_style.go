package posts

import "blockwright/posts/svg"

// The looks of the drawing. Each kind of line has its own width and dashes, each
// kind of area its own hatching, so that black-and-white prints tell them apart.
var (
	plateStyle  = svg.Style{Stroke: svg.Ink, Width: 0.5, Fill: svg.Birch}
	behindStyle = svg.Style{Stroke: svg.Soft, Width: 0.25, Dash: []float64{2, 1.2}}
	pocketStyle = svg.Style{
		Stroke: svg.Ink, Width: 0.3,
		Hatch: svg.Hatch{Stroke: svg.Soft, Width: 0.13, Space: 1.4, Angle: 135},
	}
	nominalStyle = svg.Style{Stroke: svg.Ink, Width: 0.15}
	engraveStyle = svg.Style{Stroke: svg.Ink, Width: 0.35}
	seatStyle    = svg.Style{Stroke: svg.Brick, Width: 1.2}
	cutterStyle  = svg.Style{
		Stroke: svg.Ink, Width: 0.3, Dash: []float64{3, 1.2}, Fill: svg.Steel,
		Hatch: svg.Hatch{Stroke: svg.Soft, Width: 0.1, Space: 2.2, Angle: 45},
	}
	bodyStyle  = svg.Style{Stroke: svg.Soft, Width: 0.2, Dash: []float64{1.5, 1}, Fill: "#f2f4f5"}
	boardStyle = svg.Style{Stroke: svg.Ink, Width: 0.25, Dash: []float64{6, 1.5, 1, 1.5}}
	boardFill  = svg.Style{
		Fill:  svg.Oak,
		Hatch: svg.Hatch{Stroke: "#8a6d3b", Width: 0.12, Space: 1.8, Angle: 0, Dash: []float64{9, 1.4, 5, 1.4}},
	}
	// wood in wood, where a joint is drawn with an error
	clashStyle = svg.Style{Stroke: svg.Ink, Width: 0.2, Fill: svg.Brick,
		Hatch: svg.Hatch{Stroke: svg.Ink, Width: 0.25, Space: 0.7, Angle: 45}}
	wantedStyle  = svg.Style{Stroke: svg.Ink, Width: 0.25, Dash: []float64{1.6, 1}}
	axisStyle    = svg.Style{Stroke: svg.Ink, Width: 0.18, Dash: []float64{9, 1.5, 1, 1.5}}
	groundLine   = svg.Style{Stroke: svg.Ink, Width: 0.5}
	groundFill   = svg.Style{Hatch: svg.Hatch{Stroke: svg.Ink, Width: 0.13, Space: 1.5, Angle: 60}}
	keepOutStyle = svg.Style{Stroke: svg.Ink, Width: 0.25, Dash: []float64{2, 1.2},
		Hatch: svg.Hatch{Stroke: svg.Soft, Width: 0.13, Space: 2, Angle: 45}}
	thinLine   = svg.Style{Stroke: svg.Soft, Width: 0.18}
	sheetStyle = svg.Style{Stroke: svg.Soft, Width: 0.3, Fill: "#faf7f0"}
)
