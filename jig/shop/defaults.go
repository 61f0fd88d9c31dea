package shop

import (
	"blockwright/jig/source"
	"text/scanner"
)

func readDefaults(f *source.File, s *source.Section, d *Defaults) {
	set := func(at *float64, key string, in source.Range) {
		if v, ok := s.Length(key, in); ok {
			*at = v
		}
	}
	set(&d.Through, "through", source.Within(0, ThroughMax))
	set(&d.SafeZ, "safe_z", source.Within(1.1, 100))
	if v, ok := s.Number("ramp", source.Range{Min: 0.1, Max: 5, Unit: "degrees"}); ok {
		d.Ramp = v
	}
	if v, ok := s.Number("feed_factor", source.Within(0.01, 1)); ok {
		d.FeedFactor = v
	}
	if v, ok := s.OneOf("zero", "table", "top"); ok {
		d.Zero = v
	}
	if v, ok := s.OneOf("hold", "tabs", "screws", "skin"); ok {
		d.Hold = v
	}
	if v, ok := s.Count("tabs", source.Within(2, 20)); ok {
		d.Tabs = v
	}
	set(&d.TabWidth, "tab_width", source.Within(1, 50))
	set(&d.TabHeight, "tab_height", source.Within(0.3, 20))
	set(&d.Skin, "skin", source.Within(0.1, 3))
	set(&d.Allowance, "allowance", source.Within(0, 2))
	set(&d.KerfExtra, "kerf_extra", source.Within(0, 5))
	if v, ok := s.Bool("climb"); ok {
		d.Climb = v
	}
	if v, ok := s.Bool("spring"); ok {
		d.Spring = v
	}
	set(&d.Overtravel, "overtravel", source.Within(0, 10))
	set(&d.Web, "web", source.Within(0, 20))
	set(&d.Clearance, "clearance", source.Within(0.1, 0.5))
	set(&d.Ease, "ease", source.Within(0, 2))
	if v, ok := s.Get("posts"); ok {
		d.Posts, d.PostsAt = posts(f, v)
	}
	s.Done()
}

// posts reads the list of words and their places; whether there is a post of each name is for
// those to say who know the posts.
func posts(f *source.File, v source.Value) (names []string, at []scanner.Position) {
	if v.Kind != source.Array {
		f.Fault(v, v.Have(), "a list of names in quotes")
		return nil, nil
	}
	for _, item := range v.Items {
		if item.Kind != source.Text || item.Text == "" {
			f.Fault(item, item.Have(), "a name in quotes")
			continue
		}
		names, at = append(names, item.Text), append(at, item.Pos)
	}
	return names, at
}
