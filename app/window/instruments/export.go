package instruments

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"

	"lampblack/scope"
)

// writeScope writes the scope's traces over time.
func (m *measure) writeScope(w io.Writer) error {
	if m.switches.rolls() {
		return m.writeStrips(w)
	}
	return m.writeTraces(w)
}

// writeStrips writes the lowest and highest value in each column of the rolling
// picture, over the time from now.
func (m *measure) writeStrips(w io.Writer) error {
	head, strips := []string{"time (s)"}, [][]scope.Column{}
	for i, name := range []string{"A", "B"} {
		if m.connected[i] {
			head = append(head, name+" lowest", name+" highest")
			strips = append(strips, m.strips[i].Columns(make([]scope.Column, stripColumns)))
		}
	}
	lines := [][]string{head}
	for c := range stripColumns {
		line := []string{strconv.FormatFloat(float64(c-stripColumns+1)*m.stripStep/m.rate, 'g', 9, 64)}
		for _, s := range strips {
			low, high := "", ""
			if !s[c].Empty() {
				low, high = strconv.FormatFloat(s[c].Min, 'g', 9, 64), strconv.FormatFloat(s[c].Max, 'g', 9, 64)
			}
			line = append(line, low, high)
		}
		lines = append(lines, line)
	}
	if len(strips) == 0 {
		return errNowhere
	}
	return writeLines(w, lines)
}

var errNowhere = errors.New("no probe is on an output: there is nothing to be written")

func writeLines(w io.Writer, lines [][]string) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	if err := out.WriteAll(lines); err != nil {
		return fmt.Errorf("the numbers could not be written: %w", err)
	}
	return nil
}

func (m *measure) writeTraces(w io.Writer) error {
	var traces []scope.Kept
	for i, name := range []string{"A", "B"} {
		if m.connected[i] && len(m.samples[i]) > 0 {
			traces = append(traces, scope.Keep(name, "", m.samples[i], m.rate, m.view, m.zero))
		}
	}
	for i, name := range []string{"A kept", "B kept"} {
		if m.hasKept[i] {
			k := m.kept[i]
			k.Name = name
			traces = append(traces, k)
		}
	}
	return scope.WriteCSV(w, traces...)
}

func (m *measure) writeSpectra(w io.Writer) error {
	head, levels := []string{"frequency (Hz)"}, [][]float64{}
	for i, name := range []string{"A (dBFS)", "B (dBFS)"} {
		if m.connected[i] {
			head, levels = append(head, name), append(levels, m.spectra[i].Levels())
		}
	}
	if len(levels) == 0 {
		return errNowhere
	}
	lines := [][]string{head}
	for bin := range levels[0] {
		line := []string{strconv.FormatFloat(m.spectra[0].Hz(float64(bin), m.rate), 'g', 9, 64)}
		for _, l := range levels {
			line = append(line, strconv.FormatFloat(l[bin], 'f', 4, 64))
		}
		lines = append(lines, line)
	}
	return writeLines(w, lines)
}
