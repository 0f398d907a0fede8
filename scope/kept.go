package scope

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
)

// Kept is a trace that is kept to be laid over later ones: a plain value, which
// can be drawn at any width and written to a file.
type Kept struct {
	Name    string
	Unit    string    // of its values, "" for none
	Rate    float64   // samples a second
	Samples []float64 // the view, and what interpolation needs beside it
	View    View      // of Samples
	Zero    float64   // where the trigger stands, in Samples
}

// Keep returns a trace of its own memory: the samples of a view, taken at rate,
// with the trigger at place zero.
func Keep[S Sample](name, unit string, samples []S, rate float64, v View, zero float64) Kept {
	from := min(max(int(math.Floor(v.First))-sincSide, 0), len(samples))
	to := max(min(int(math.Ceil(v.First+v.Length))+sincSide+1, len(samples)), from)
	k := Kept{Name: name, Unit: unit, Rate: rate, Samples: make([]float64, to-from), View: View{v.First - float64(from), v.Length}, Zero: zero - float64(from)}
	for i, s := range samples[from:to] {
		k.Samples[i] = float64(s)
	}
	return k
}

// Trace is Trace of what was kept. For a present view that begins before seconds
// earlier than its trigger, give seconds: the two triggers then stand over each
// other, whatever the two rates are.
func (k Kept) Trace(dst []Column, before, seconds float64) []Column {
	return Trace(dst, k.Samples, View{k.Zero - before*k.Rate, seconds * k.Rate})
}

// WriteCSV writes traces as numbers, for a spreadsheet: a line for each sample of
// the first one's view, with the time in seconds from its trigger, and the values
// of all. The header names every column with its unit: "time (s)", "A (V)". Traces
// of another rate are interpolated; where one has no signal its field is empty.
// Lines end in CR LF and fields are quoted as RFC 4180 says; the decimal sign is
// the point.
func WriteCSV(w io.Writer, traces ...Kept) error {
	if len(traces) == 0 {
		return fmt.Errorf("there is no trace to be written")
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	fields := []string{"time (s)"}
	for _, k := range traces {
		name := k.Name
		if k.Unit != "" {
			name += " (" + k.Unit + ")"
		}
		fields = append(fields, name)
	}
	err := out.Write(fields)
	first := traces[0]
	last := min(int(math.Floor(first.View.First+first.View.Length)), len(first.Samples)-1)
	for i := max(int(math.Ceil(first.View.First)), 0); i <= last && err == nil; i++ {
		seconds := (float64(i) - first.Zero) / first.Rate
		fields = append(fields[:0], strconv.FormatFloat(seconds, 'g', 12, 64))
		for _, k := range traces {
			fields = append(fields, k.field(seconds))
		}
		err = out.Write(fields)
	}
	out.Flush()
	if err == nil {
		err = out.Error()
	}
	if err != nil {
		return fmt.Errorf("the traces could not be written: %w", err)
	}
	return nil
}

// field returns the value at a time from the trigger, as text.
func (k Kept) field(seconds float64) string {
	place := k.Zero + seconds*k.Rate
	if near := math.Round(place); math.Abs(place-near) < 1e-6 {
		place = near // the sample itself, not its neighbourhood
	}
	v := edge(k.Samples, place)
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', 9, 64)
}
