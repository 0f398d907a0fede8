package meters

import (
	"bytes"
	"math"
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
	"lampblack/patch/recording"
)

const rate = 48000

// stand is a bench on which a plate of meters is seen.
type stand struct {
	*windowtest.Bench
	p      *Plate
	t      testing.TB
	ends   leaf.Ends
	frozen bool
}

func newStand(t testing.TB, theme string) *stand {
	s := &stand{Bench: windowtest.New(t, theme), t: t}
	freeze := func() plate.Setting {
		return plate.Setting{Name: "signal", Text: "running", Tap: func() { s.frozen = !s.frozen }, Hint: "held"}
	}
	s.p = New(s.Session, s.ends.Until, freeze, func() bool { return s.frozen })
	t.Cleanup(s.ends.Stop)
	return s
}

// add puts a module on the sheet.
func (s *stand) add(kind string) string {
	e, name := desk.AddModule(kind, patch.Point{X: 10, Y: 10}, s.Patch())
	if !s.Do(e) {
		s.t.Fatalf("no %s was added", kind)
	}
	return name
}

func (s *stand) join(from, output, to, input string) {
	if !s.Do(desk.Join(patch.Socket{Module: from, Name: output}, patch.Socket{Module: to, Name: input}, patch.Setting{})) {
		s.t.Fatalf("%s %s was not joined to %s %s", from, output, to, input)
	}
}

// play puts a recording of these channels on the bench, which the output plays at its
// own level, and has the plate seen.
func (s *stand) play(channels ...[]float64) {
	s.t.Helper()
	var file bytes.Buffer
	if err := recording.WriteWAV(&file, channels, rate, recording.Float32); err != nil {
		s.t.Fatal(err)
	}
	s.BringRecording("", "signal.wav", file.Bytes(), patch.Point{X: 10, Y: 10})
	player := func() string {
		for _, m := range s.Patch().Modules {
			if m.Kind == "recording" {
				return m.Name
			}
		}
		return ""
	}
	s.Until("the recording is on the sheet", func() bool { return player() != "" })
	out := s.add("output")
	s.Do(desk.SetControl(out, "level", patch.Setting{Value: 0, Unit: "dB"}))
	s.join(player(), "left", out, "left")
	if len(channels) > 1 {
		s.join(player(), "right", out, "right")
	}
	s.listen(0.2)
	s.p.Show(true)
	s.NoteOn(0, 1)
}

// listen lets time pass, with a beat every 30 ms.
func (s *stand) listen(seconds float64) {
	for range int(math.Ceil(seconds/0.03 - 1e-9)) {
		s.Listen(0.03)
		s.p.Beat()
	}
}

// near fails unless got is within a tolerance.
func (s *stand) near(what string, got, want, tolerance float64) {
	s.t.Helper()
	s.t.Logf("%s: %.3f (%g ± %g)", what, got, want, tolerance)
	if !(math.Abs(got-want) <= tolerance) {
		s.t.Errorf("%s reads %.3f; want %g within %g", what, got, want, tolerance)
	}
}

// sine is a sine of so many dBFS.
func sine(seconds, dB, hz, degrees float64) []float64 {
	out := make([]float64, int(seconds*rate))
	for i := range out {
		out[i] = math.Pow(10, dB/20) * math.Sin(2*math.Pi*math.Mod(hz*float64(i)/rate, 1)+degrees*math.Pi/180)
	}
	return out
}

// listen10 is listen in steps of 10 ms, with what is to be done at each.
func (s *stand) listen10(seconds float64, each func(at float64)) {
	for i := range int(math.Round(seconds * 100)) {
		s.Listen(0.01)
		s.p.Beat()
		each(float64(i+1) / 100)
	}
}
