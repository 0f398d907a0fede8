package ruler

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/patch"
)

func TestThePanelFollowsTheChoice(t *testing.T) {
	s := bench(t, "soot")
	p := NewRulers(s)
	show1(t, p, 760, 300)
	if len(p.Shown()) != 0 || !strings.Contains(p.explain.Text(), "Choose a module") {
		t.Errorf("with nothing chosen it says %q", p.explain.Text())
	}
	s.Select(desk.Selection{Modules: []string{"sway", "reed"}, Cord: -1, Note: -1})
	if got := names(p); got != "cutoff width peak boost" {
		t.Errorf("of reed it shows %q", got)
	}
	s.Select(desk.Selection{Cord: 0, Note: -1})
	if got := names(p); got != "depth" {
		t.Errorf("of the cord it shows %q", got)
	}
	s.Do(desk.Unjoin(sway, cutoff))
	if got := names(p); got != "" {
		t.Errorf("after the cord has gone it shows %q", got)
	}
	p.Stop()
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	if len(p.Shown()) != 0 {
		t.Error("it goes on after Stop")
	}
}

// What is out of sight for a minute loses its renderer (fyne's cache).
func TestRulersFollowAfterALongTimeOutOfSight(t *testing.T) {
	s := bench(t, "soot")
	p := NewRulers(s)
	show1(t, p, 760, 300)
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	test.WidgetRenderer(p.Shown()[0]).Destroy()
	s.Do(desk.SetControl("reed", "cutoff", patch.Setting{Value: 523, Unit: "Hz"}))
	if got := p.Shown()[0].view.value.Text; !strings.HasPrefix(got, "523") {
		t.Errorf("the ruler shows %q after 523 Hz was set", got)
	}
	test.WidgetRenderer(p).Destroy()
	s.Select(desk.Selection{Modules: []string{"sway"}, Cord: -1, Note: -1})
	if got := names(p); !strings.HasPrefix(got, "rate") {
		t.Errorf("of sway it shows %q", got)
	}
}

func names(p *Rulers) string {
	var all []string
	for _, r := range p.Shown() {
		all = append(all, r.Name())
	}
	return strings.Join(all, " ")
}

func TestTheDepthOfACord(t *testing.T) {
	s := bench(t, "soot")
	s.Select(desk.Selection{Cord: 0, Note: -1})
	p := NewRulers(s)
	show1(t, p, 760, 300)
	r := p.Shown()[0]
	if r.Written() != "+0.8 oct" {
		t.Errorf("the depth is written %q", r.Written())
	}
	r.Type("-1.5")
	key2(r, fyne.KeyReturn)
	if d := s.Patch().Cords[0].Depth; d.Value != -1.5 || d.Unit != "oct" {
		t.Errorf("a bare -1.5 is %+v, want octaves as shown", d)
	}
	r.of.turn()
	if d := s.Patch().Cords[0].Depth; d.Unit != "Hz" || d.Value >= 0 {
		t.Errorf("in the other unit it is %+v, want Hz below 0", d)
	}
	s.Undo()
	if d := s.Patch().Cords[0].Depth; d.Unit != "oct" {
		t.Errorf("one step of undo leads to %+v", d)
	}
	r.DoubleTapped(&fyne.PointEvent{Position: fyne.NewPos(float32(r.geometry().x(0.5)), float32(r.geometry().base))})
	if d := s.Patch().Cords[0].Depth; d.Value != 1 {
		t.Errorf("the usual depth is %+v, want 1 oct", d)
	}
	r.Type("20 oct")
	key2(r, fyne.KeyReturn)
	if !strings.Contains(r.Message(), "10 oct") {
		t.Errorf("a depth of 20 oct: %q", r.Message())
	}
}

func TestHelpOpensInPlace(t *testing.T) {
	s := bench(t, "paper")
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	p := NewRulers(s)
	c := show1(t, p, 760, 420)
	test.Tap(p.more)
	if !p.Help() || len(p.Shown()) != 4 {
		t.Fatalf("help %v, %d rulers", p.Help(), len(p.Shown()))
	}
	golden.Check(t, "help-paper.png", c)
	s.Select(desk.Selection{Modules: []string{"sway"}, Cord: -1, Note: -1})
	if p.Help() {
		t.Error("another module opens with its help")
	}
}

func TestHelpIsRead(t *testing.T) {
	got := readHelp("One\ntwo.\n\n    low   what lies\n          below\n    high  the rest\n\nThree.")
	want := []helpBlock{{"", "One two."}, {"low", "what lies below"}, {"high", "the rest"}, {"", "Three."}}
	if len(got) != len(want) {
		t.Fatalf("read %q", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("block %d is %q, want %q", i, got[i], want[i])
		}
	}
	if s := look.Sentence("Lets a part\nthrough. Four outputs."); s != "Lets a part through." {
		t.Errorf("first sentence %q", s)
	}
}

func TestTheThemeMayTurnWhileAPanelIsShown(t *testing.T) {
	s := bench(t, "soot")
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	p := NewRulers(s)
	show1(t, p, 760, 300)
	test.ApplyTheme(t, look.ThemeWithText("paper", 24))
	p.Refresh()
	for _, r := range p.Shown() {
		r.Refresh()
		if r.view.name.Color != look.Paper.Drawn || r.view.index.FillColor != look.Paper.Drawn {
			t.Errorf("%s is still set in soot", r.Name())
		}
		if r.view.name.TextSize != 24 {
			t.Errorf("%s is set in %g", r.Name(), r.view.name.TextSize)
		}
	}
}
