package command

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lampblack/app/window/instruments/expect"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/scope"
	"lampblack/scope/predict"

	"github.com/spf13/cobra"
)

// predicting is what the flags of predict say.
type predicting struct {
	at       string
	note     string
	velocity float64
	after    float64 // seconds
	over     float64 // seconds; 0: as long as the sound needs
	rate     int
	rows     int
	json     bool
}

func (s *session) predict() *cobra.Command {
	var r predicting
	c := &cobra.Command{
		Use:   "predict FILE|TAKE",
		Short: "Work out which lines a patch should give, and measure them beside",
		Long: `Work out from a patch which lines an output should give, by the formulas of the
handbooks (Fourier series, products of sines, Bessel functions, the responses of
filters), then play the note, measure the same lines, and print both.

FILE is a patch file (JSON), or - for standard input.
` + wrap("Otherwise "+takeNames+"; its patch is looked at, not its memory.", 78, "") + `

The note is held from the first sample on; measured is what sounds after --after
seconds. Each line's level, phase and frequency is what leaves the least of the
sound over, so that lines 1.5/--over Hz apart are told apart. Envelopes that still
move are taken at their mean over what is measured.

A level is that of the line's peak in dBFS, as in every spectrum here; a third of
an octave of noise has its RMS (an RMS of 1 is 0 dBFS). What can't be worked out
is told, with the module and the reason; the lines are then only a part of the
sound, and nothing is claimed of them.

` + predictKeys,
		Example: `  lampblack predict bell.json --note A4
  lampblack predict bell.json --at bronze/out --after 0.5
  lampblack predict 1M4/3 --json`,
		Args:              exactly(1, "one patch file or one take"),
		ValidArgsFunction: s.completeTakes(1, true),
		RunE: func(c *cobra.Command, args []string) error {
			if err := r.check(c.Flags().Changed); err != nil {
				return err
			}
			return s.predictOf(c.Context(), args[0], r)
		},
	}
	f := c.Flags()
	f.StringVar(&r.at, "at", "", "the `output` to look at, as module/out (default: the first output's left)")
	f.StringVar(&r.note, "note", "A4", "the `note` that is held: A4, C#3, Bb2, or its frequency in Hz; none for no note")
	f.Float64Var(&r.velocity, "velocity", 1, "how hard it is struck, a `number` from 0 to 1")
	f.Float64Var(&r.after, "after", 2, "from when on it is measured, in `s`, 0 to 600")
	f.Float64Var(&r.over, "over", 0, "how long, in `s`, 0.1 to 60 (default: 0.7, with noise 5.5, while an envelope moves 0.2)")
	f.IntVar(&r.rate, "rate", 0, "`samples` a second, 8000 to 384000 (default: the take's, or 48000)")
	f.IntVar(&r.rows, "rows", 40, "print so many `rows`; 0 prints all")
	jsonFlag(c, &r.json)
	return c
}

// check finds what is wrong with the flags before any work is done.
func (r *predicting) check(given func(flag string) bool) error {
	var faults []error
	if r.note != "none" {
		if _, err := pitchOf(r.note); err != nil {
			faults = append(faults, err)
		}
	}
	if !(r.velocity >= 0 && r.velocity <= 1) {
		faults = append(faults, fmt.Errorf("--velocity is %g; it must be 0 to 1", r.velocity))
	}
	if !(r.after >= 0 && r.after <= 600) {
		faults = append(faults, fmt.Errorf("--after is %g; it must be 0 to 600 s", r.after))
	}
	if given("over") && !(r.over >= 0.1 && r.over <= 60) {
		faults = append(faults, fmt.Errorf("--over is %g; it must be 0.1 to 60 s", r.over))
	}
	if given("rate") && (r.rate < engine.MinRate || r.rate > engine.MaxRate) {
		faults = append(faults, fmt.Errorf("--rate is %d; it must be %d to %d Hz", r.rate, engine.MinRate, engine.MaxRate))
	}
	if r.rows < 0 {
		faults = append(faults, fmt.Errorf("--rows is %d; it must be 0 or more", r.rows))
	}
	return errors.Join(faults...)
}

var noteName = regexp.MustCompile(`^([A-Ga-g])([#♯b♭]?)(-?\d{1,2})$`)

// pitchOf reads a note, or a frequency in Hz, as octaves from A4 = 440 Hz (ISO 16).
func pitchOf(note string) (float64, error) {
	if m := noteName.FindStringSubmatch(note); m != nil {
		octave, _ := strconv.Atoi(m[3])
		number := 12*(octave+1) + [...]int{9, 11, 0, 2, 4, 5, 7}[strings.ToLower(m[1])[0]-'a']
		switch m[2] {
		case "#", "♯":
			number++
		case "b", "♭":
			number--
		}
		return float64(number-69) / 12, nil
	}
	hz, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(note), "Hz")), 64)
	if err != nil || !(hz >= 1 && hz <= 20000) {
		return 0, fmt.Errorf("--note is %q; it must be a note (A4, C#3, Bb2), a frequency of 1 to 20000 Hz, or none", note)
	}
	return math.Log2(hz / 440), nil
}

// outputOf finds the output that --at names.
func outputOf(p patch.Patch, at string) (patch.Socket, error) {
	if at == "" {
		if left, _ := predict.Heard(p); len(left) > 0 {
			return left[0], nil
		}
		return patch.Socket{}, errors.New("the patch has no output module; name an output with --at module/out")
	}
	cut := strings.LastIndex(at, "/")
	if cut < 0 {
		return patch.Socket{}, fmt.Errorf("--at is %q; it must be a module and its output, as module/out; there are the modules %s", at, moduleNames(p))
	}
	socket := patch.Socket{Module: strings.TrimSpace(at[:cut]), Name: strings.TrimSpace(at[cut+1:])}
	m := p.Module(socket.Module)
	if m == nil {
		return socket, fmt.Errorf("--at names the module %q, which is not there; there are %s", socket.Module, moduleNames(p))
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok || k.Output(socket.Name) < 0 {
		var names []string
		for _, o := range k.Outputs {
			names = append(names, o.Name)
		}
		return socket, fmt.Errorf("--at names the output %q, which %s has not; it has %s", socket.Name, m.Name, strings.Join(names, ", "))
	}
	return socket, nil
}

func moduleNames(p patch.Patch) string {
	var names []string
	for _, m := range p.Modules {
		names = append(names, m.Name)
	}
	return strings.Join(names, ", ")
}

// predicted is what was worked out and measured.
type predicted struct {
	name    string
	at      patch.Socket
	note    string
	is      predict.Prediction
	rows    []expect.Row
	rest    expect.Rest
	seconds float64
	rate    int
	moves   []patch.Socket // envelopes that were still on their way
}

func (s *session) predictOf(ctx context.Context, name string, r predicting) error {
	src, err := s.open(ctx, name, "")
	if err != nil {
		return err
	}
	at, err := outputOf(src.patch, r.at)
	if err != nil {
		return err
	}
	r.rate = cmp.Or(r.rate, src.rate, 48000)
	clips, err := src.clips(r.rate)
	if err != nil {
		return err
	}
	s.tell(src.notices)
	c := predict.Conditions{Rate: float64(r.rate), Velocity: r.velocity, Held: r.note != "none"}
	if c.Held {
		c.Pitch, _ = pitchOf(r.note) // checked
	}
	p := predicted{name: src.name, at: at, note: r.note, rate: r.rate, is: predict.Predict(src.patch, at, c)}
	graph, err := engine.Compile(src.patch, engine.Settings{Rate: r.rate, Clips: clips})
	if err != nil {
		return fmt.Errorf("%s: %w", src.name, err)
	}
	l := &listening{engine: engine.New(r.rate), ctx: ctx}
	l.engine.Swap(graph)
	if err := p.listen(l, src.patch, c, r); err != nil {
		return err
	}
	if r.json {
		return s.printJSON(newPredictedJSON(&p))
	}
	s.printPredicted(&p, r.rows)
	return nil
}

// listen plays the note, measures, and works out anew what moving envelopes change.
func (p *predicted) listen(l *listening, of patch.Patch, c predict.Conditions, r predicting) error {
	sockets := []patch.Socket{p.at}
	for _, m := range p.is.Moving {
		if m.Hz == 0 && m.Unit == "" && m.Socket != p.at && !slices.Contains(sockets, m.Socket) {
			sockets = append(sockets, m.Socket)
		}
	}
	over := cmp.Or(r.over, 0.7)
	if r.over == 0 && p.is.Density != nil {
		over = 5.5
	}
	n := 1 << int(math.Log2(max(over*c.Rate, 1024)))
	sound, err := l.hear(sockets, c, int(r.after*c.Rate), n)
	if err != nil {
		return err
	}
	if r.over == 0 && slices.ContainsFunc(sound[1:], moves) { // over a short time it moves less
		n = min(n, movingSamples)
		for i := range sound {
			sound[i] = sound[i][:n]
		}
	}
	meter := expect.NewMeter(n, c.Rate)
	c.Levels = map[patch.Socket]float64{}
	for i, at := range sockets[1:] {
		mean := meter.Mean(sound[i+1])
		for _, m := range p.is.Moving {
			if m.Socket == at && math.Abs(mean-m.Now) > 1e-6 {
				c.Levels[at], p.moves = mean, append(p.moves, at)
			}
		}
	}
	if len(p.moves) > 0 {
		p.is = predict.Predict(of, p.at, c)
	}
	p.rows = expect.Rows(p.is)
	p.seconds = float64(n) / c.Rate
	p.rest = meter.Read(p.rows, sound[0])
	if p.is.Density != nil {
		readNoise(p.rows, sound[0], c.Rate)
	}
	return nil
}

// movingSamples is over how many samples it is measured while an envelope moves.
const movingSamples = 8192

// moves tells whether an envelope is on its way.
func moves(level []float32) bool {
	return slices.Max(level)-slices.Min(level) > 1e-4
}

// readNoise measures the bands among rows: spectra that overlap by half.
func readNoise(rows []expect.Row, samples []float32, rate float64) {
	const length = 8192
	s := scope.NewSpectrum(min(length, len(samples)), scope.Hann)
	n := s.Len()
	s.AverageEvenly(2*len(samples)/n - 1)
	for from := 0; from+n <= len(samples); from += n / 2 {
		s.Transform32(samples[from : from+n])
	}
	expect.ReadBands(rows, s, rate, float64(len(samples))/rate)
}
