package meters

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/patch"
	"lampblack/patch/memory"
)

// setting returns a setting by its name.
func (s *stand) setting(name string) plate.Setting {
	for _, set := range s.p.Settings() {
		if set.Name == name {
			return set
		}
	}
	s.t.Fatalf("there is no setting %q", name)
	return plate.Setting{}
}

// playTone plays a tone on both sides that lasts for 12 s, and listens.
func playTone(t testing.TB, seconds float64) *stand {
	s := newStand(t, "soot")
	x := sine(12, -23, 1000, 0)
	s.play(x, x)
	s.listen(seconds)
	return s
}

func TestHiddenOnlyTheLoudnessGoesOn(t *testing.T) {
	s := newStand(t, "soot")
	x := sine(8, -23, 1000, 0)
	s.play(x, x)
	s.listen(2)
	s.p.Show(false)
	frames, measured := s.p.gauges.now.frames, s.p.gauges.now.measured
	for range 100 { // 3 s
		s.Listen(0.03)
		look.Live.Beat()
	}
	if s.p.gauges.now.frames != frames {
		t.Error("what is not seen is metered")
	}
	s.near("loudness gathered while hidden, s", float64(s.p.gauges.now.measured-measured)/rate, 3, 0.05)
	s.p.Show(true)
	s.listen(0.5)
	s.near("integrated", s.p.shown.loud.Integrated, -23, 0.1)
	if s.p.shown.lost != 0 {
		t.Errorf("%d frames are lost", s.p.shown.lost)
	}
}

func TestNothingIsMeasuredBeforeItIsSeen(t *testing.T) {
	s := newStand(t, "soot")
	s.add("output")
	s.Listen(1)
	look.Live.Beat()
	if s.p.gauges.now.measured != 0 || s.p.source.known {
		t.Error("nobody has looked at the meters, and they measure")
	}
}

// EBU Tech 3341: the short-term loudness is that of 3 s; before they are over
// there is no highest one, which is told otherwise than silence.
func TestBeforeThreeSecondsThereIsNoHighestShortTerm(t *testing.T) {
	s := playTone(t, 2)
	if one, _ := s.p.Reading(); !strings.HasSuffix(one, "max S –") {
		t.Errorf("after 2 s it says %q", one)
	}
	s = playTone(t, 4)
	if one, _ := s.p.Reading(); strings.HasSuffix(one, "max S –") || strings.HasSuffix(one, "∞") {
		t.Errorf("after 4 s it says %q", one)
	}
}

// What comes too late to be read is told: taps remember 1.4 s at 48 kHz.
func TestWhatWasLostIsTold(t *testing.T) {
	s := playTone(t, 2)
	highest := s.p.shown.sides[0].peakMost
	s.Listen(3)
	s.p.Beat()
	s.near("lost, s", float64(s.p.shown.lost)/rate, 3-float64(oldest)/rate, 0.05)
	if text := s.p.sinceText(&s.p.shown); !strings.Contains(text, " s lost") {
		t.Errorf("it says %q", text)
	}
	s.near("the seam leaves the highest peak", s.p.shown.sides[0].peakMost, highest, 0.01)
}

func TestTheLoudnessBeginsAnewWhenPlayingStarts(t *testing.T) {
	s := playTone(t, 3)
	s.Do(desk.SetMemory("a bar", memory.Memory{Length: 8, Notes: []memory.Note{{At: 0, For: 4, Velocity: 1}}}))
	s.Play()
	s.listen(1)
	if s.p.shown.measured < 3*rate {
		t.Error("it began anew though that is to be done by hand")
	}
	s.Stop()
	s.listen(0.5)
	s.setting("begins").Tap()
	s.Play()
	s.listen(1)
	s.near("measured since playing started, s", float64(s.p.shown.measured)/rate, 1, 0.05)
	s.setting("integrated").Tap()
	s.listen(0.1)
	s.near("begun anew at, s of the pass", s.p.since, 1, 0.1)
	if text := s.p.sinceText(&s.p.shown); !strings.HasPrefix(text, "since 00:01.0, for 00:00.") {
		t.Errorf("it says %q", text)
	}
}

func TestAPauseAddsNothing(t *testing.T) {
	s := playTone(t, 3)
	s.setting("counting").Tap()
	measured := s.p.gauges.now.measured
	s.listen(2)
	if s.p.shown.measured != measured {
		t.Error("it counts on")
	}
	if text := s.p.sinceText(&s.p.shown); !strings.HasSuffix(text, "paused") {
		t.Errorf("it says %q", text)
	}
	s.setting("counting").Tap()
	s.listen(2)
	s.near("measured beside the pause, s", float64(s.p.shown.measured)/rate, 5, 0.1)
}

// Outputs add up, as the engine adds them: two alike are 6.02 dB louder than one.
func TestSeveralOutputsAddUp(t *testing.T) {
	s := playTone(t, 1)
	out := s.add("output")
	s.Do(desk.SetControl(out, "level", patch.Setting{Value: 0, Unit: "dB"}))
	s.join("recording", "left", out, "left")
	s.join("recording", "right", out, "right")
	s.listen(2)
	s.near("momentary", s.p.shown.loud.Momentary, -23+6.02, 0.1)
	if s.p.shown.lost != 0 {
		t.Errorf("%d frames are lost", s.p.shown.lost)
	}
}

// A probe is one channel: a tone of -20 dBFS reads -23.01 + 0.70 - 0.691 LUFS in it
// (BS.1770-5: -0.691 + 10 log10 of the mean square, K-weighted by +0.698 dB at 1 kHz).
func TestProbesAreMetered(t *testing.T) {
	s := newStand(t, "soot")
	s.play(sine(14, -20, 1000, 0), sine(14, -26, 1000, 180))
	s.SetProbe(desk.ProbeA, patch.Socket{Module: "recording", Name: "left"})
	s.SetProbe(desk.ProbeB, patch.Socket{Module: "recording", Name: "right"})
	of := func(want string) {
		s.setting("of").Step(1)
		if text := s.setting("of").Text; text != want {
			t.Fatalf("it is of %q, not of %q", text, want)
		}
		s.listen(3)
	}
	of("A")
	s.near("A, momentary", s.p.shown.loud.Momentary, -23, 0.05)
	s.near("A, peak", s.p.shown.sides[0].peak, -20, 0.05)
	if text := s.p.correlationText(&s.p.shown); text != "needs two signals" {
		t.Errorf("of one channel the correlation is %q", text)
	}
	of("B")
	s.near("B, peak", s.p.shown.sides[0].peak, -26, 0.05)
	of("A and B")
	s.near("A and B, correlation", s.p.shown.correlation, -1, 0.001)
	s.near("A and B, right peak", s.p.shown.sides[1].peak, -26, 0.05)
	// A probe that moves begins all anew.
	s.SetProbe(desk.ProbeB, patch.Socket{Module: "recording", Name: "left"})
	s.listen(1)
	s.near("moved, correlation", s.p.shown.correlation, 1, 0.001)
	s.near("moved, measured s", float64(s.p.shown.measured)/rate, 1, 0.1)
}

func TestFrozenMetersStandWhileTheLoudnessGoesOn(t *testing.T) {
	s := playTone(t, 2)
	s.setting("signal").Tap()
	before := s.p.shown
	s.listen(2)
	if s.p.shown != before {
		t.Error("the reading moves")
	}
	s.setting("signal").Tap()
	s.listen(0.1)
	s.near("measured, s", float64(s.p.shown.measured)/rate, 4.1, 0.2)
}

func TestAlignmentAndTargetMoveTheScales(t *testing.T) {
	s := playTone(t, 2)
	// RP 155 lines up at -20 dBFS: there a tone of -23 dBFS is 3 dB under 0 VU.
	s.setting("alignment").Typed(-20)
	if text := s.p.vuText(s.p.shown.sides[0].vu); text != "−3.0" {
		t.Errorf("VU reads %q", text)
	}
	if text := s.p.ppmText(-20); text != "4.0" {
		t.Errorf("PPM reads %q", text)
	}
	if m := ppmMarks(-20); m[3].label != "4" || m[3].under != "−20" || m[0].under != "−34" || m[6].under != "−8" {
		t.Errorf("the marks are %v", m)
	}
	if text := s.p.integratedText(&s.p.shown); text != "integrated −23.0 LUFS (0.0 LU) on target" {
		t.Errorf("it says %q", text)
	}
	s.setting("target").Step(1)
	if text := s.p.integratedText(&s.p.shown); text != "integrated −23.0 LKFS (+1.0 LU) on target" {
		t.Errorf("it says %q", text)
	}
}

func TestHeldPeaksAreLetGo(t *testing.T) {
	s := newStand(t, "soot")
	x := programme(part{-6, 1}, part{-20, 10})
	s.play(x, x)
	s.setting("peak hold").Typed(2)
	s.listen(2)
	s.near("held", s.p.shown.sides[0].held, -6, 0.1)
	s.listen(2)
	s.near("let go", s.p.shown.sides[0].held, -20, 0.1)
	s.near("highest", s.p.shown.sides[0].peakMost, -6, 0.1)
	s.p.restart()
	s.listen(0.5)
	s.near("highest since begun anew", s.p.shown.sides[0].peakMost, -20, 0.1)
}

func TestTheLoudnessIsWritten(t *testing.T) {
	s := playTone(t, 5)
	var file bytes.Buffer
	if err := s.p.Files()[0].Write(&file); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil || len(rows) < 50 {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	last := rows[len(rows)-1]
	if at, _ := strconv.ParseFloat(last[0], 64); math.Abs(at-5) > 0.11 {
		t.Errorf("the last line is of %s s", last[0])
	}
	for i, name := range rows[0][1:] {
		if v, _ := strconv.ParseFloat(last[i+1], 64); math.Abs(v+23) > 0.1 { // Tech 3341, case 1
			t.Errorf("%s is %s", name, last[i+1])
		}
	}
	for ending, begins := range map[string]string{".png": "\x89PNG", ".svg": "<?xml", ".pdf": "%PDF"} {
		file.Reset()
		if err := s.p.Files()[1].To(&file, "loudness"+ending); err != nil {
			t.Error(err)
		}
		if !strings.HasPrefix(file.String(), begins) {
			t.Errorf("%s begins %.10q", ending, file.String())
		}
	}
}

// Scales lie as printed: their ends, middles and reference marks.
func TestScales(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"PPM 4", ppmAt(4), 0.5, "seven marks, the fourth in the middle"},
		{"0 VU", vuAt(0), 0.708, "IEC 60268-17: 71 % of the scale"},
		{"+3 VU", vuAt(3), 1, "the end of the scale"},
		{"no correlation", correlationAt(0), 0.5, "symmetry"},
		{"0 cents", centsAt(0), 0.5, "symmetry"},
		{"0.5 Hz", rateAt(0.5), 0, "the least rate"},
		{"300 Hz", rateAt(300), 1, "the highest"},
		{"LU -36", loudAt(-23 - 36), 0, "Tech 3341: the EBU +18 scale"},
		{"LU +18", loudAt(-23 + 18), 1, "the same"},
		{"silence", loudAt(math.Inf(-1)), 0, "what is no number is at the foot"},
	} {
		if math.Abs(c.got-c.want) > 0.001 {
			t.Errorf("%s lies at %.4f, not %.4f: %s", c.name, c.got, c.want, c.source)
		}
	}
}

func TestWhereThereIsNoRoomTheFirstMeterIsChosen(t *testing.T) {
	s := playTone(t, 1)
	s.alone(420, 300)
	first := s.setting("first")
	if first.Text != atLoudness {
		t.Fatalf("the first is %q", first.Text)
	}
	for range 4 {
		s.setting("first").Tap()
	}
	if s.setting("first").Text != atCorrelation {
		t.Errorf("after four more the first is %q", s.setting("first").Text)
	}
	s.alone(900, 600)
	for _, set := range s.p.Settings() {
		if set.Name == "first" {
			t.Error("there is room for all, and a first to be chosen")
		}
	}
}

func TestEveryMeterTellsItsStandard(t *testing.T) {
	s := playTone(t, 1)
	for place, standard := range map[string]string{
		atPPM: "IEC 60268-10", atVU: "IEC 60268-17", atPeak: "BS.1770-5", atCorrelation: "0.4 s",
		atTuner: "ISO 16", atModulation: "Fastl and Zwicker", atLoudness: "Tech 3342",
	} {
		if hint := s.p.HintAt(place); !strings.Contains(hint, standard) {
			t.Errorf("%s: %q", place, hint)
		}
	}
}

// BenchmarkBeat measures what the plate costs at each beat of the screen, 30 ms of
// sound read, but for the painting.
func BenchmarkBeat(b *testing.B) {
	s := newStand(b, "soot")
	x := sine(60, -23, 1000, 0)
	s.play(x, x)
	s.alone(760, 420)
	s.listen(5)
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		s.Listen(0.03)
		b.StartTimer()
		s.p.Beat()
	}
}

// The warning of a peak over what R 128 permits is seen in any room, and the figures
// beside it whole.
func TestTheWarningOfAPeakIsSeen(t *testing.T) {
	s := newStand(t, "soot")
	x := sine(9, -0.5, 1000, 0)
	s.play(x, x)
	for _, width := range []float32{280, 350, 476, 513, 560, 760, 1000} {
		s.alone(width, 340)
		s.listen(0.5)
		texts := map[string]bool{}
		for _, f := range s.p.figures {
			texts[f.text.Text] = true
		}
		if !texts[over] && !texts[overShort] || !texts["L −0.5\u00a0 R −0.5"] {
			t.Errorf("%g units wide it is not to be seen: %v", width, texts)
		}
	}
}
