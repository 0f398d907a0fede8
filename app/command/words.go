package command

import (
	"fmt"
	"math"
	"strings"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// auditionWords tells a take's audio in one line.
func auditionWords(h notebook.Heading) string {
	sides := "mono"
	if h.Channels == 2 {
		sides = "stereo"
	}
	return fmt.Sprintf("%s, %s, %s, peak %s", patch.FormatValue(h.Seconds, "s"),
		patch.FormatValue(float64(h.Rate), "Hz"), sides, peakWords(h.Peak))
}

// dbfs returns the level of an amplitude in dBFS, or nil for silence.
func dbfs(amplitude float64) *float64 {
	if amplitude <= 0 {
		return nil
	}
	db := 20 * math.Log10(amplitude)
	return &db
}

func peakWords(peak float64) string {
	if db := dbfs(peak); db != nil {
		return fmt.Sprintf("%.1f dBFS", *db)
	}
	return "none (silence)"
}

// settingWords tells the settings of a module in the order of its kind.
func settingWords(m patch.Module) string {
	var words []string
	if m.Recording != nil {
		words = append(words, m.Recording.Name)
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok {
		return strings.Join(append(words, "(this program has no such kind)"), ", ")
	}
	for i := range k.Controls {
		c := &k.Controls[i]
		if v, ok := m.Settings[c.Name]; ok {
			words = append(words, c.Name+" "+v.String())
		}
	}
	return strings.Join(words, ", ")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// depthWords tells the depth of a cord into a control, as a cell of its own.
func depthWords(c patch.Cord) string {
	if c.Depth == (patch.Setting{}) {
		return ""
	}
	return "\t" + c.Depth.Signed()
}
