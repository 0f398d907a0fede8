package instruments

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/plate"
)

// scopePlate is the large scope.
type scopePlate struct {
	l       *Large
	t       *Panel
	picture *oscillogram
}

func newScopePlate(l *Large) *scopePlate {
	return &scopePlate{l: l, t: l.panel, picture: newOscillogram(l.panel.measure)}
}

func (s *scopePlate) Name() string { return "scope" }
func (s *scopePlate) Show(bool)    {}
func (s *scopePlate) Beat()        { s.picture.late() }
func (s *scopePlate) Redraw()      { s.picture.raster.Refresh() }

func (s *scopePlate) Settings() []plate.Setting {
	t := s.t
	w := &t.measure.switches
	all := []plate.Setting{t.timeSetting(), t.valueSetting(0), t.valueSetting(1), t.planeSetting()}
	if !w.rolls() {
		all = append(all, t.sourceSetting())
		if w.source < onNotes {
			all = append(all, t.slopeSetting(), t.levelSetting())
		}
		all = append(all, t.modeSetting(), t.holdOffSetting(), t.beforeSetting())
	}
	if !w.plane && !w.rolls() {
		all = append(all, t.fadeSetting(), t.keepSetting())
	}
	if !w.plane {
		all = append(all, t.cursorSetting())
	}
	return append(all, t.freezeSetting())
}

func (s *scopePlate) Write(p *leaf.Pen, area plate.Box) {
	b := area.Picture(p.Em)
	s.rule(p, b)
	p.Put(s.picture.raster, b.X, b.Y, b.Width, b.Height)
	s.writeLevelMark(p, b)
	s.writeCursors(p, b)
}

func (s *scopePlate) Reading() (one, two string) {
	w := &s.t.measure.switches
	one, two = s.t.pitchText(0), s.t.pitchText(1)
	if w.cursors > 0 && !w.plane {
		one, two = s.cursorText(), ""
	}
	if state := s.t.state(); state != "" {
		two = state
	}
	return one, two
}

func (s *scopePlate) HintAt(place string) string {
	switch place {
	case "level mark":
		return "drag it to set the level at which the picture begins"
	case "cursor 1", "cursor 2":
		return "drag it, or ↑ ↓; PgUp, PgDn: a division; Home: to the trigger"
	}
	return ""
}

func (s *scopePlate) Files() []plate.File {
	return []plate.File{{Setting: "numbers", Name: "scope.csv", Write: s.t.measure.writeScope,
		Hint: "a file for a spreadsheet (CSV): the traces over time"}, printing("scope", s.t.printScope)}
}
