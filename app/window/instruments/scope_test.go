package instruments

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/scope"
)

func TestNormalKeepsThePictureAndSingleTakesOne(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.mode = scope.Normal })
	listen(b, p, 0.2)
	shot := p.measure.shot
	listen(b, p, 0.2)
	if p.measure.shot == shot {
		t.Error("normal takes no new picture of a tone that crosses 0")
	}
	p.set(func(w *switches) { w.level = 0.9; w.value[0] = 0.25 })
	p.set(func(w *switches) { w.level = 1.5 }) // beyond the sine: it never fires
	listen(b, p, 0.1)
	shot = p.measure.shot
	listen(b, p, 0.5)
	if p.measure.shot != shot || p.state() != "waits for its trigger" {
		t.Errorf("without a crossing %d pictures came, and it says %q", p.measure.shot-shot, p.state())
	}
	p.set(func(w *switches) { w.level, w.mode = 0, scope.Single })
	p.measure.sweep.Arm()
	shot = p.measure.shot
	listen(b, p, 0.5)
	if p.measure.shot != shot+1 || !p.measure.sweep.Done() {
		t.Errorf("single took %d pictures", p.measure.shot-shot)
	}
}

func TestAPictureBeginsWithAPassOfTheMemory(t *testing.T) {
	b, p := sines(t, "soot", 440)
	e, _ := desk.AddModule("memory", patch.Point{X: 300, Y: 10}, b.Patch())
	b.Do(e)
	tune := memory.Memory{Length: 0.5, Repeat: true, Notes: []memory.Note{{At: 0, For: 0.1, Velocity: 1}, {At: 0.25, For: 0.1, Velocity: 1}}}
	b.Do(desk.Edit{Name: "write a tune", Apply: func(b *desk.Bench) error { b.Memory = tune; return nil }})
	p.set(func(w *switches) { w.source, w.mode = onPasses, scope.Normal })
	shot := p.measure.shot
	listen(b, p, 0.5)
	if p.measure.shot != shot || p.state() != "the memory has not played yet" {
		t.Errorf("before it played it says %q, after %d pictures", p.state(), p.measure.shot-shot)
	}
	b.Play()
	start := b.Engine().Clock()
	listen(b, p, 1.3) // a pass begins every 0.5 s, a note every 0.25 s
	played := float64(b.Engine().Clock()-start) / float64(b.Rate())
	if want := int64(played/0.5) + 1; p.measure.shot != shot+want {
		t.Errorf("in %.2f s %d pictures began, want %d", played, p.measure.shot-shot, want)
	}
}

func TestAPictureBeginsWithANote(t *testing.T) {
	b, p := sines(t, "soot", 440)
	e, name := desk.AddModule("memory", patch.Point{X: 300, Y: 10}, b.Patch())
	b.Do(e)
	p.set(func(w *switches) { w.source, w.mode = onNotes, scope.Normal })
	listen(b, p, 0.5)
	shot := p.measure.shot
	b.NoteOn(0, 0.8)
	listen(b, p, 0.5)
	if name == "" || p.measure.shot != shot+1 {
		t.Fatalf("one note of %q began %d pictures", name, p.measure.shot-shot)
	}
	// The trigger is 1 for the one sample on which the note starts.
	at := int(math.Round(p.measure.zero + 0.5))
	if near := p.measure.samples[onNotes][at-1 : at+2]; max(near[0], near[1], near[2]) != 1 {
		t.Errorf("at the picture's trigger the notes read %v", near)
	}
}

func TestCursorsReadOnePeriod(t *testing.T) {
	b, p := sines(t, "soot", 1000)
	p.set(func(w *switches) { w.time, w.cursors = 1e-3, 1 })
	listen(b, p, 0.1)
	p.measure.cursors = [2]float64{0.1, 0.2} // 1 ms apart: a period of 1 kHz
	r, ok := p.measure.readCursors()
	if !ok || math.Abs(r.Seconds-1e-3) > 1e-12 || math.Abs(r.Hz-1000) > 1e-6 || math.Abs(r.Rise) > 1e-3 {
		t.Errorf("over a period of 1 kHz the cursors read %+v", r)
	}
	p.measure.cursors = [2]float64{0.025, 0.075} // a quarter and three quarters of a sine: its two peaks
	if r, _ = p.measure.readCursors(); math.Abs(r.Rise+2) > 2e-3 {
		t.Errorf("from the crest to the trough of a full-scale sine they read %.4f, want -2", r.Rise)
	}
	b.Show(p.Large(), 760, 420)
	p.Enlarge(ofScope)
	p.large.plates[ofScope].(*scopePlate).moveCursor(0, -3)
	if p.measure.cursors[0] != 0 {
		t.Errorf("a cursor left the picture: %g", p.measure.cursors[0])
	}
}

func TestTwoEqualSignalsDrawADiagonal(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.SetProbe(desk.ProbeB, b.Probe(desk.ProbeA))
	p.set(func(w *switches) { w.plane = true })
	listen(b, p, 1)
	p.scope.raster.Resize(fyne.NewSize(160, 160))
	img := p.scope.draw(160, 160)
	on := 0
	for y := range 160 {
		for x := range 160 {
			if _, _, _, a := img.At(x, y).RGBA(); a > 0 {
				on++
				if d := x + y - 159; d < -3 || d > 3 {
					t.Fatalf("ink at (%d, %d), beside the diagonal", x, y)
				}
			}
		}
	}
	if on < 150 {
		t.Errorf("the diagonal has only %d pixels", on)
	}
}

func TestOldTracesFade(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.SetProbe(desk.ProbeB, patch.Socket{})
	p.set(func(w *switches) { w.fade = 0.5 })
	p.scope.raster.Resize(fyne.NewSize(200, 160))
	for range 15 {
		listen(b, p, 1.0/30)
		p.scope.draw(200, 160)
	}
	b.Do(desk.SetControl("oscillator", "frequency", patch.Setting{Value: 100, Unit: "Hz"}))
	ink := func() float64 { // above what one trace of 100 Hz covers
		sum := 0.0
		img := p.scope.draw(200, 160)
		for y := range 160 {
			for x := range 200 {
				_, _, _, a := img.At(x, y).RGBA()
				sum += float64(a) / 0xFFFF
			}
		}
		return sum
	}
	listen(b, p, 0.1)
	early := ink()
	for range 60 { // 2 s: four time constants
		listen(b, p, 1.0/30)
		p.scope.draw(200, 160)
	}
	if late := ink(); late > 0.75*early {
		t.Errorf("after 2 s the picture has %.0f of %.0f pixels of ink", late, early)
	}
}

func TestLongTimesRoll(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.time = 0.1 })
	p.scope.raster.Resize(fyne.NewSize(100, 80))
	listen(b, p, 0.5) // of 1 s
	cols := make([]scope.Column, 100)
	if !p.scope.scopeLine(cols, 0, 80) {
		t.Fatal("nothing is drawn")
	}
	if !cols[30].Empty() || cols[70].Empty() {
		t.Errorf("after half of the time the left half is %v and the right half %v", cols[30], cols[70])
	}
	// A full-scale sine reaches 4 divisions of 0.25 up and down: the whole picture.
	if cols[80].Min > 0.1 || cols[80].Max < 79.9 {
		t.Errorf("a full-scale sine reaches from %.2f to %.2f of 80 pixels", cols[80].Min, cols[80].Max)
	}
	var file bytes.Buffer
	if err := fileOf(p, "numbers")(&file); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(file.String()), "\r\n")
	if len(lines) != 1001 || lines[0] != "time (s),A lowest,A highest,B lowest,B highest" || !strings.HasSuffix(lines[1], ",,,,") {
		t.Errorf("%d lines of numbers, from %q and %q on", len(lines), lines[0], lines[1])
	}
}

// What was averaged, held or rolled belongs to the output that was measured.
func TestAProbeThatMovesBeginsAnew(t *testing.T) {
	b, p := sines(t, "soot", 1500)
	p.set(func(w *switches) { w.average, w.hold = 256, true })
	cols := make([]scope.Column, 300)
	listen(b, p, 0.5)
	p.spectrum.spectrumLine(cols, under, 100)
	b.SetProbe(desk.ProbeA, b.Probe(desk.ProbeB)) // 750 Hz
	listen(b, p, 0.5)
	if text := p.peaksText(0); !strings.HasPrefix(text, "A 750.00 Hz") {
		t.Errorf("after the probe has moved to 750 Hz it reads %q", text)
	}
	p.spectrum.spectrumLine(cols, under, 100)
	at := int(p.measure.axis().Fraction(1500) * 300)
	if cols[at].Min < 60 {
		t.Errorf("the line of 1500 Hz is still held at %.0f of 100 pixels", cols[at].Min)
	}
}
