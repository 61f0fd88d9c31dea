package main

import (
	"math"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// A settingView is a setting as JSON. Lengths are mm.
type settingView struct {
	Cutter       string       `json:"cutter"`
	Joint        string       `json:"joint"`
	Stock        float64      `json:"stock_mm"`
	With         string       `json:"with,omitempty"`
	At           *landingView `json:"at,omitempty"`
	Other        *float64     `json:"other_mm,omitempty"`
	Land         float64      `json:"land_mm"`
	Skim         float64      `json:"skim_mm,omitempty"`
	Overlay      float64      `json:"overlay_mm,omitempty"`
	Range        [2]float64   `json:"range_mm"`
	Usable       [2]float64   `json:"usable_mm"`
	Centre       [2]float64   `json:"centre_mm"`
	Residual     float64      `json:"residual_mm"`
	Passes       []passView   `json:"passes"`
	Lip          *float64     `json:"lip_mm,omitempty"`    // of a drawer's front, beyond the side's end
	Spacer       *float64     `json:"spacer_mm,omitempty"` // between the fence's two places
	Clearance    float64      `json:"clearance_mm"`        // by the cutter's design: the nested joint's widest gap
	LargestGap   float64      `json:"largest_gap_mm"`
	Interference float64      `json:"interference_mm"`
	Search       *searchView  `json:"search,omitempty"` // for joints of one cutter by half turn
	Measure      readingView  `json:"measure"`
	Effect       *askedView   `json:"effect,omitempty"` // of --error-height and --error-fence
	Effects      []effectView `json:"effects"`
	Wood         *woodView    `json:"wood,omitempty"`
	Job          *boardsView  `json:"job,omitempty"` // with --one
	Speeds       []speedView  `json:"speeds"`
	Traced       *sureView    `json:"traced,omitempty"`      // what the cutter's profile rests on
	TracedWith   *sureView    `json:"traced_with,omitempty"` // the same of the set's other cutter
	Warnings     []string     `json:"warnings"`
}

// A passView is one pass. Height or fence is null where the cutter's file says
// that the profile is known up to a shift only.
type passView struct {
	Pass   string   `json:"pass"`
	Cutter string   `json:"cutter"`
	Stock  float64  `json:"stock_mm"`
	Height *float64 `json:"height_mm"`
	Fence  *float64 `json:"fence_mm"`

	Measure readingView `json:"measure"`
}

// A landingView is where a point of the profile was asked to land.
type landingView struct {
	Profile [2]float64 `json:"profile_mm"`
	Table   [2]float64 `json:"table_mm"`
}

// An askedView is what the error asked for does.
type askedView struct {
	DZ           float64  `json:"dz_mm"`
	E            float64  `json:"e_mm"`
	Flip         *float64 `json:"flip_mm"` // null for joints without the flip test
	Tip          *float64 `json:"tip_mm"`  // null for joints without tips
	Face         *float64 `json:"face_mm"`
	End          *float64 `json:"end_mm"`
	Gap          float64  `json:"gap_mm"` // held flush, normal to the surfaces
	Interference float64  `json:"interference_mm"`
}

func viewAsked(set *joint.Setting, f joint.Effect) *askedView {
	v := viewEffect(f)
	flip := &v.FlipTop
	if !set.TurnsOver() {
		flip = nil
	}
	return &askedView{v.DZ, v.E, flip, v.Tip, v.Face, v.End, v.Gap, v.Interference}
}

// A searchView is what the search that knows no centre finds.
type searchView struct {
	Height *float64 `json:"height_mm"`
	Fence  *float64 `json:"fence_mm"`
	Gap    float64  `json:"rms_gap_mm"`
}

type readingView struct {
	Top     *float64  `json:"top_mm"`
	BodyTop float64   `json:"body_top_mm,omitempty"`
	Land    *landView `json:"land"`
	Kiss    *kissView `json:"kiss,omitempty"`
}

type landView struct {
	Out  float64 `json:"out_mm"`
	From float64 `json:"from_mm"`
	To   float64 `json:"to_mm"`
}

type kissView struct {
	Height float64 `json:"height_mm"`
	Out    float64 `json:"out_mm"`
	Foot   float64 `json:"foot_mm"`
}

// An effectView is what one error does.
type effectView struct {
	DZ           float64  `json:"dz_mm"`
	E            float64  `json:"e_mm"`
	DT           float64  `json:"dt_mm"`
	FlipTop      float64  `json:"flip_top_mm"`
	FlipBottom   float64  `json:"flip_bottom_mm"`
	OffX         float64  `json:"off_x_mm"`
	OffZ         float64  `json:"off_z_mm"`
	Tip          *float64 `json:"tip_mm,omitempty"`
	OtherTip     *float64 `json:"other_tip_mm,omitempty"`
	Face         *float64 `json:"face_step_mm,omitempty"`
	End          *float64 `json:"end_step_mm,omitempty"`
	Gap          float64  `json:"gap_mm"`
	Interference float64  `json:"interference_mm"`
}

func viewSetting(set *joint.Setting) settingView {
	r, c := set.Request, set.Request.Cutter
	right := set.With(0, 0)
	exact := right.Flush
	v := settingView{
		Cutter: c.Handle, Joint: set.Joint, Stock: r.Stock, Land: r.Land, Skim: r.Skim, Overlay: r.Overlay,
		Range: set.Range, Usable: set.Usable, Centre: set.Centre, Residual: set.Residual,
		LargestGap: exact.Normal, Interference: exact.Interference,
		Effects:  []effectView{},
		Speeds:   viewSpeeds(set),
		Warnings: []string{},
	}
	if set.TurnsOver() {
		m := set.Minimise()
		v.Search = &searchView{ifKnown(m.Height, c.Known[1]), ifKnown(m.Fence, c.Known[0]), m.Gap}
	}
	v.Traced = viewTraced(c)
	if r.With != nil {
		v.With, v.TracedWith = r.With.Handle, viewTraced(r.With)
	}
	if r.At != nil {
		v.At = &landingView{r.At.Profile, r.At.Table}
	}
	if r.Other > 0 {
		v.Other = &r.Other
	}
	v.Clearance = right.Nested.Normal
	if len(set.Passes) == 2 && set.Passes[0].Cutter == set.Passes[1].Cutter {
		if d := math.Abs(set.Passes[0].Fence - set.Passes[1].Fence); d > geom.Tol {
			v.Spacer = &d
		}
	}
	if set.Joint == "drawer-lock" {
		lip := set.Passes[0].Stock - set.Flush().T[1]
		v.Lip = &lip
	}
	for i, p := range set.Passes {
		v.Passes = append(v.Passes, passView{p.Name, p.Cutter.Handle, p.Stock,
			ifKnown(p.Height, p.Cutter.Known[1]), ifKnown(p.Fence, p.Cutter.Known[0]), viewReading(set.Read(i))})
	}
	v.Measure = viewReading(set.Read(0))
	for _, e := range usualErrors("mm") {
		v.Effects = append(v.Effects, viewEffect(set.Under(e)))
	}
	for _, w := range set.Warnings {
		v.Warnings = append(v.Warnings, w.String())
	}
	return v
}

func viewReading(r joint.Reading) readingView {
	v := readingView{Top: ifKnown(r.Top, r.Top != 0), BodyTop: r.BodyTop}
	if k := r.Kiss; k != nil {
		v.Kiss = &kissView{k.Height, k.Out, k.Foot}
	}
	if l := r.Land; l != nil {
		v.Land = &landView{l.Out, l.From, l.To}
	}
	return v
}

func viewEffect(f joint.Effect) effectView {
	v := effectView{
		DZ: f.Error.DZ, E: f.Error.E, DT: f.Error.DT,
		FlipTop: f.FlipTop, FlipBottom: f.FlipBottom, OffX: f.Off[0], OffZ: f.Off[1],
		Gap: f.Flush.Normal, Interference: f.Flush.Interference,
	}
	if f.Corner != nil {
		v.Tip, v.OtherTip = &f.Tips[0].Short, &f.Tips[1].Short
		v.Face, v.End = &f.Corner.FaceStep, &f.Corner.EndStep
	}
	return v
}

// ifKnown is v, or nothing where it is not known or no number.
func ifKnown(v float64, known bool) *float64 {
	if !known || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// usualErrors are the errors of height, exposure and thickness whose effect is
// listed: what a careful and a hasty setting are off by. Common practice.
func usualErrors(units string) []joint.Error {
	small, large := 0.05, 0.1
	if units == "in" {
		small, large = 0.002*25.4, 0.004*25.4
	}
	var all []joint.Error
	for _, v := range []float64{large, small, -small, -large} {
		all = append(all, joint.Error{DZ: v})
	}
	for _, v := range []float64{large, small, -small, -large} {
		all = append(all, joint.Error{E: v})
	}
	return append(all, joint.Error{DT: large}, joint.Error{DT: -large})
}
