package movement

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/patch"
)

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
