package command

import (
	"encoding/hex"
	"fmt"
	"math"
)

const renderKeys = `With --json: file, seconds, rate (Hz), channels, bits, peak (1 = full scale),
peak_dbfs (null for silence), clipped (samples), fine (times the rate), sha256
(of the samples as they were computed; that of the take, if it is one at its own
rate and length and not fine).`

type renderedJSON struct {
	File     string   `json:"file"`
	Seconds  float64  `json:"seconds"`
	Rate     int      `json:"rate"`
	Channels int      `json:"channels"`
	Bits     string   `json:"bits"`
	Peak     float64  `json:"peak"`
	PeakDBFS *float64 `json:"peak_dbfs"`
	Clipped  int      `json:"clipped"`
	Fine     int      `json:"fine"`
	SHA256   string   `json:"sha256"`
}

// toldRendered tells of a file that has just been written.
func (s *session) toldRendered(sound rendered, r rendering) error {
	j := renderedJSON{
		File: r.output.path, Seconds: float64(sound.samples) / float64(r.rate), Rate: r.rate,
		Channels: sound.channels, Bits: r.bits, Peak: sound.peak, PeakDBFS: dbfs(sound.peak),
		Fine:   r.factor,
		SHA256: hex.EncodeToString(sound.sum[:]),
	}
	if r.bits != "32f" {
		j.Clipped = sound.clipped
	}
	if j.Clipped > 0 {
		fmt.Fprintf(s.err, "lampblack: %d samples pass full scale (peak %s) and are clipped; lower the output's level, or use --bits 32f\n", j.Clipped, peakWords(j.Peak))
	}
	switch {
	case r.json:
		return s.printJSON(j)
	case r.output.path != "-":
		fmt.Fprintf(s.err, "%s: %g s, %d Hz, %s, peak %s\n", visible(j.File), math.Round(j.Seconds*1000)/1000, j.Rate, counted(j.Channels, "channel"), peakWords(j.Peak))
	}
	return nil
}
