package movement

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// page is the plate on a leaf of its own.
type page struct {
	*windowtest.Bench
	t      testing.TB
	plate  *Plate
	leaf   *leaf.Turning
	frozen bool
}

// open puts modules of kinds on a bench, and the page beside it.
func open(t testing.TB, theme string, modules ...string) *page {
	t.Helper()
	b := windowtest.New(t, theme)
	b.NewSound()
	g := &page{Bench: b, t: t}
	for _, kind := range modules {
		e, _ := desk.AddModule(kind, patch.Point{X: 10, Y: 10}, b.Patch())
		g.does(e)
	}
	g.leaf = leaf.NewTurning(func(p *leaf.Pen) {
		g.plate.Write(p, plate.Box{X: p.Em, Y: p.Em, Width: p.Width - 2*p.Em, Height: p.Height - 2*p.Em})
	})
	g.plate = New(b.Session, Options{
		Refresh: g.leaf.Refresh, Frozen: func() bool { return g.frozen }, Until: func(func()) {},
		Freeze: func() plate.Setting { return plate.Setting{Name: "signal"} },
	})
	return g
}

func (g *page) does(e desk.Edit) {
	g.t.Helper()
	if !g.Do(e) {
		g.t.Fatalf("%s was refused: %v", e.Name, g.Notices(desk.AtSheet))
	}
}

func (g *page) sets(module, control, value string) {
	g.t.Helper()
	v, err := patch.ParseSetting(value, g.Kind(module).Control(control))
	if err != nil {
		g.t.Fatal(err)
	}
	g.does(desk.SetControl(module, control, v))
}

// joins joins "module/output" to "module/control" by a depth.
func (g *page) joins(from, to, depth string) {
	g.t.Helper()
	socket := func(s string) patch.Socket {
		module, name, _ := strings.Cut(s, "/")
		return patch.Socket{Module: module, Name: name}
	}
	d := patch.Setting{}
	if depth != "" {
		var err error
		if d, err = patch.ParseDepth(depth, g.Kind(socket(to).Module).Control(socket(to).Name)); err != nil {
			g.t.Fatal(err)
		}
	}
	g.does(desk.Join(socket(from), socket(to), d))
}

// sounds lets time pass at the speed of a screen.
func (g *page) sounds(seconds float64) {
	for range int(seconds*30 + 0.5) {
		g.Listen(1.0 / 30)
		g.plate.Beat()
	}
}

// opens shows the page for some seconds of sound, with the ranges begun when the
// settings have glided.
func (g *page) opens(seconds float64) {
	g.plate.Show(true)
	g.sounds(0.2)
	g.ClearMarks()
	g.sounds(seconds)
	g.plate.read()
}

func (g *page) row(module, control string) *row {
	g.t.Helper()
	for _, r := range g.plate.rows {
		if r.At == (patch.Socket{Module: module, Name: control}) {
			return r
		}
	}
	g.t.Fatalf("%s %s is not on the page", module, control)
	return nil
}

// says is what stands in a row.
func (r *row) says() string {
	return fmt.Sprintf("%s, %s, %s", r.value(r.least), r.value(r.most), r.rate.words(r.origin))
}

// By the formula at patch.Move a sine of ±1 and a depth of an octave drive 1 kHz
// to 500 Hz and 2 kHz. The rates are those that the sources were set to.
func TestWhatMovesReadsAsItWasSet(t *testing.T) {
	g := open(t, "soot", "slow", "filter", "oscillator", "oscillator", "hold", "filter", "envelope", "amplifier", "noise", "filter")
	g.sets("slow", "rate", "6 Hz")
	g.sets("filter", "cutoff", "1 kHz")
	g.joins("slow/out", "filter/cutoff", "1 oct")
	g.sets("oscillator", "frequency", "220 Hz")
	g.sets("oscillator 2", "frequency", "1 kHz")
	g.joins("oscillator/out", "oscillator 2/frequency", "0.5 oct")
	g.sets("hold", "rate", "4 Hz")
	g.sets("filter 2", "cutoff", "800 Hz")
	g.joins("hold/out", "filter 2/cutoff", "1 oct")
	g.joins("envelope/out", "amplifier/level", "1 x")
	g.joins("noise/out", "filter 3/cutoff", "1 oct")
	g.plate.Show(true)
	g.NoteOn(0, 0.8)
	g.opens(4)
	for _, c := range []struct{ module, control, want string }{
		{"filter", "cutoff", "500 Hz, 2.00 kHz, 6.00 Hz"},
		{"oscillator 2", "frequency", "707 Hz, 1.41 kHz, 220.00 Hz"},
	} {
		if got := g.row(c.module, c.control).says(); got != c.want {
			t.Errorf("%s %s says %s; want %s", c.module, c.control, got, c.want)
		}
	}
	for _, c := range []struct{ module, want string }{{"filter 2", "4.00 Hz random"}, {"filter 3", "random"}} {
		if got := g.row(c.module, "cutoff"); got.rate.words(got.origin) != c.want {
			t.Errorf("%s says %s; want %s", c.module, got.rate.words(got.origin), c.want)
		}
	}
	g.NoteOff(0)
	g.sounds(1)
	if got := g.row("amplifier", "level"); got.rate.words(got.origin) != "with the note" {
		t.Errorf("an envelope's control moves %q", got.rate.words(got.origin))
	}
}

// 15 kHz and two octaves up is 60 kHz: beyond the scale's 20 kHz. Two down are
// 3.75 kHz.
func TestAControlDrivenPastItsEndIsClamped(t *testing.T) {
	g := open(t, "soot", "slow", "filter", "slow")
	g.sets("slow", "rate", "5 Hz")
	g.sets("filter", "cutoff", "15 kHz")
	g.joins("slow/out", "filter/cutoff", "2 oct")
	g.joins("slow 2/out", "filter/peak", "3 dB")
	g.opens(2)
	r := g.row("filter", "cutoff")
	if !r.highEnd() || r.lowEnd() || !strings.HasPrefix(r.says(), "3.75 kHz, 20.0 kHz, 5.00 Hz") {
		t.Errorf("it says %s, clamped at its low end %v, at its high end %v", r.says(), r.lowEnd(), r.highEnd())
	}
	if one, two := g.plate.Reading(); !strings.Contains(one, "driven beyond its high end") || !strings.Contains(two, "2 controls are moved   1 driven beyond an end") {
		t.Errorf("the readings are %q and %q", one, two)
	}
	if r := g.row("filter", "peak"); r.highEnd() || r.lowEnd() || r.limited {
		t.Error("a control that stays within its range counts as clamped")
	}
	g.sets("filter", "cutoff", "1 kHz")
	g.plate.begin()
	g.sounds(1)
	g.plate.begin()
	g.sounds(1)
	if r := g.row("filter", "cutoff"); r.limited || r.highEnd() {
		t.Error("begun again, the ranges still say that it is clamped")
	}
}

// Sines of full swing with depths of 1.5 and 0.5 octaves have shares of 3 to 1.
func TestTheChosenRowTellsTheSharesOfItsCords(t *testing.T) {
	g := open(t, "soot", "slow", "slow", "filter")
	g.sets("slow", "rate", "3 Hz")
	g.sets("slow 2", "rate", "0.7 Hz")
	g.joins("slow/out", "filter/cutoff", "1.5 oct")
	g.joins("slow 2/out", "filter/cutoff", "-0.5 oct")
	g.opens(4)
	list := g.plate.causes.List()
	if len(list) != 2 || math.Abs(list[0].Share-0.75) > 0.005 || math.Abs(list[1].Share-0.25) > 0.005 {
		t.Fatalf("the shares are %+v", list)
	}
	if a, b := g.plate.sourceRate(list[0].Cord), g.plate.sourceRate(list[1].Cord); a != "3.00 Hz" || b != "0.70 Hz" {
		t.Errorf("the cords move at %q and %q", a, b)
	}
}

func TestNothingIsMeasuredUnseen(t *testing.T) {
	g := open(t, "soot", "slow", "filter")
	g.joins("slow/out", "filter/cutoff", "1 oct")
	g.opens(1)
	r := g.plate.rows[0]
	count := r.history.count
	g.frozen = true
	g.sounds(1)
	if r.history.count != count {
		t.Error("frozen, it goes on measuring")
	}
	g.plate.Show(false)
	if len(g.plate.rows) != 0 {
		t.Error("unseen, it keeps its rows")
	}
	g.sets("filter", "cutoff", "2 kHz")
	if len(g.plate.rows) != 0 {
		t.Error("unseen, it follows the patch")
	}
}

// many moves 40 controls.
func many(t testing.TB, theme string) *page {
	g := open(t, theme, "slow")
	for i := range 10 {
		e, name := desk.AddModule("filter", patch.Point{}, g.Patch())
		g.does(e)
		for _, c := range []string{"cutoff", "width", "peak", "boost"} {
			depth := "0.2 oct"
			if c == "peak" || c == "boost" {
				depth = fmt.Sprintf("%d dB", i+1)
			}
			g.joins("slow/out", name+"/"+c, depth)
		}
	}
	return g
}

func TestTheKeyboardGoesThroughAllRows(t *testing.T) {
	g := many(t, "soot")
	w := g.Show(g.leaf, 520, 420)
	g.plate.Show(true)
	g.leaf.Refresh()
	w.Canvas().Focus(g.leaf)
	press := func(keys ...fyne.KeyName) {
		for _, k := range keys {
			g.leaf.TypedKey(&fyne.KeyEvent{Name: k})
		}
	}
	press(fyne.KeyRight, fyne.KeyHome)
	seen := map[patch.Socket]bool{g.plate.chosen: true}
	for range 39 {
		press(fyne.KeyDown)
		seen[g.plate.chosen] = true
		if at := g.plate.at(); at < g.plate.first || at >= g.plate.first+g.plate.fitting {
			t.Fatalf("row %d is chosen, rows %d to %d are seen", at, g.plate.first, g.plate.first+g.plate.fitting-1)
		}
	}
	if len(seen) != 40 {
		t.Errorf("%d of 40 rows are reached", len(seen))
	}
	press(fyne.KeyReturn)
	if g.Chosen() != g.plate.chosen.Module {
		t.Errorf("Enter chose %q on the sheet, the row is of %q", g.Chosen(), g.plate.chosen.Module)
	}
	press(fyne.KeyEnd, fyne.KeyPageUp)
	if at := g.plate.at(); at != 39-g.plate.fitting {
		t.Errorf("a page above the last row is row %d", at)
	}
	g.leaf.Scroll(100, 100, -1)
	if g.plate.first == 0 {
		t.Error("the wheel does not turn the rows")
	}
}

func TestByHowFarTheyMove(t *testing.T) {
	g := open(t, "soot", "slow", "filter")
	g.joins("slow/out", "filter/cutoff", "0.1 oct")
	g.joins("slow/out", "filter/peak", "12 dB")
	g.sets("slow", "rate", "5 Hz")
	g.opens(1)
	if g.plate.rows[0].At.Name != "cutoff" {
		t.Fatalf("along the signal %v stands first", g.plate.rows[0].At)
	}
	g.plate.Settings()[0].Step(1)
	if g.plate.rows[0].At.Name != "peak" || g.plate.chosen.Name != "cutoff" {
		t.Errorf("by how far %v stands first, and %v is chosen", g.plate.rows[0].At, g.plate.chosen)
	}
}

// busy is a bench with everything that a row can show.
func busy(t testing.TB, theme string) *page {
	g := open(t, theme, "slow", "oscillator", "oscillator", "hold", "filter", "envelope", "amplifier")
	for _, names := range [][2]string{{"slow", "sway"}, {"oscillator", "bronze"}, {"oscillator 2", "clapper"}, {"filter", "reed"}, {"amplifier", "vent"}} {
		g.does(desk.RenameModule(names[0], names[1]))
	}
	g.sets("sway", "rate", "1.5 Hz")
	g.sets("clapper", "frequency", "220 Hz")
	g.sets("bronze", "frequency", "1 kHz")
	g.sets("hold", "rate", "4 Hz")
	g.sets("reed", "cutoff", "9 kHz")
	g.joins("clapper/out", "bronze/frequency", "0.5 oct")
	g.joins("sway/out", "reed/cutoff", "1 oct")
	g.joins("hold/out", "reed/cutoff", "-0.6 oct")
	g.joins("envelope/out", "reed/cutoff", "0.3 oct")
	g.joins("hold/out", "reed/peak", "6 dB")
	g.joins("envelope/out", "vent/level", "1 x")
	g.joins("sway/out", "reed/width", "0.5 oct")
	return g
}

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		for _, size := range []struct {
			name          string
			width, height float32
		}{{"", 520, 440}, {"-wide", 900, 560}} {
			g := busy(t, theme)
			w := g.Show(g.leaf, size.width, size.height)
			g.plate.Show(true)
			w.Canvas().Capture()
			g.NoteOn(0, 0.8)
			g.opens(3)
			g.NoteOff(0)
			g.sounds(1)
			g.plate.choose(1)
			for i, r := range g.plate.rows {
				if r.At == (patch.Socket{Module: "reed", Name: "cutoff"}) {
					g.plate.choose(i)
				}
			}
			g.sounds(3)
			g.Until("the full swings", func() bool { return g.plate.causes.List()[0].Worked })
			g.leaf.Refresh()
			golden.Check(t, theme+size.name+".png", w.Canvas())
		}
	}
}

func TestFortyRowsPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		g := many(t, theme)
		w := g.Show(g.leaf, 480, 400)
		g.plate.Show(true)
		w.Canvas().Capture()
		g.opens(4)
		g.plate.choose(17)
		g.sounds(3)
		g.Until("the full swings", func() bool { return g.plate.causes.List()[0].Worked })
		g.leaf.Refresh()
		golden.Check(t, "forty-"+theme+".png", w.Canvas())
	}
}
