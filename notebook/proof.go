package notebook

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"lampblack/patch/kind"
	"lampblack/patch/recording"
)

// Proof tells whether a take still renders to the samples that it was kept with.
//
// The audition that a render is compared with has 24 bits. The render is
// rounded to 24 bits in the same way first, so that no rounding is taken for a
// difference; a difference under half a step (2^-24, -144 dB re full scale)
// therefore shows in the hash only.
type Proof struct {
	Take      Heading
	Identical bool     // the float samples have the hash that was kept
	SHA256    string   // of the float samples as they are rendered now
	NullDB    float64  // RMS of the difference in dB re the RMS of the audition; -Inf: none in 24 bits; NaN: the audition can't be read
	FirstAt   float64  // seconds to the first sample that differs in 24 bits; NaN: none does
	Changed   []string // module kinds whose version is another than when it was kept ("filter 1 -> 2")
	Damage    string   // what is wrong with the audition that is kept; empty: nothing
}

// OK reports whether the proof holds: identical, and the audition undamaged.
func (p Proof) OK() bool { return p.Identical && p.Damage == "" }

// String returns one line for people.
func (p Proof) String() string {
	return fmt.Sprintf("take %d: %s", p.Take.Number, p.Verdict())
}

// Verdict returns what the proof found, without the take.
func (p Proof) Verdict() string {
	var text strings.Builder
	switch {
	case p.Identical:
		fmt.Fprintf(&text, "bit-identical (%.1f s, sha256 %.4s...)", p.Take.Seconds, p.SHA256)
	case math.IsNaN(p.NullDB):
		text.WriteString("differs")
	case math.IsInf(p.NullDB, -1):
		text.WriteString("differs by less than its 24-bit audition can show (-144 dB re full scale)")
	case math.IsInf(p.NullDB, 1):
		fmt.Fprintf(&text, "differs, its audition is silent and the render is not, from %.3f s", p.FirstAt)
	default:
		// + 0 turns -0.0 into 0.0
		fmt.Fprintf(&text, "differs, null at %.1f dB, from %.3f s", math.Round(p.NullDB*10)/10+0, p.FirstAt)
	}
	if len(p.Changed) > 0 {
		fmt.Fprintf(&text, "; changed since: %s", strings.Join(p.Changed, ", "))
	}
	if p.Damage != "" {
		fmt.Fprintf(&text, "; its audition is damaged: %s", p.Damage)
	}
	return text.String()
}

// MarshalJSON writes the proof for machines; numbers that JSON does not have
// are null.
func (p Proof) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Take      TakeID   `json:"take"`
		Number    int      `json:"number"`
		Cue       CueID    `json:"cue"`
		OK        bool     `json:"ok"`
		Identical bool     `json:"identical"`
		Kept      string   `json:"kept sha256"`
		Now       string   `json:"now sha256"`
		NullDB    *float64 `json:"null dB"`
		FirstAt   *float64 `json:"differs from s"`
		Changed   []string `json:"changed kinds"`
		Damage    string   `json:"damage,omitempty"`
		Text      string   `json:"text"`
	}{p.Take.ID, p.Take.Number, p.Take.Cue, p.OK(), p.Identical, p.Take.SHA256, p.SHA256,
		finite(p.NullDB), finite(p.FirstAt), append([]string{}, p.Changed...), p.Damage, p.String()})
}

func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// Prove renders a take again from what is kept with it, and compares: first
// the hash of the float samples, then the samples with the audition. An error
// means that nothing could be compared (a kind that is gone, a recording that
// is damaged); a take that differs is no error. progress, which may be nil, is
// called with 0 to 1.
func (b *Book) Prove(ctx context.Context, id TakeID, progress func(done float64)) (Proof, error) {
	t, err := b.Take(id)
	if err != nil {
		return Proof{}, err
	}
	p := Proof{Take: t.Heading, Changed: changedKinds(t.Kinds), NullDB: math.NaN(), FirstAt: math.NaN()}
	files, err := b.gather(t.Patch, nil)
	if err != nil {
		return Proof{}, fmt.Errorf("take %d can't be proved: %w", t.Number, err)
	}
	sound, err := t.render(ctx, files, progress)
	if err != nil {
		return Proof{}, fmt.Errorf("take %d can't be proved: %w", t.Number, err)
	}
	p.SHA256 = hashOfSound(sound)
	p.Identical = p.SHA256 == t.SHA256
	audition, damage, err := b.undamaged(t.Heading)
	if err != nil {
		return Proof{}, fmt.Errorf("take %d can't be proved: %w", t.Number, err)
	}
	p.Damage = damage
	if damage == "" {
		p.compare(sound.Channels(), audition)
	}
	return p, nil
}

// compare fills in the difference between a render and an audition.
func (p *Proof) compare(sound, audition [][]float64) {
	var first int
	p.NullDB, first = subtract(sound, audition)
	if first >= 0 {
		p.FirstAt = float64(first) / float64(p.Take.Rate)
	}
	if p.Identical && first >= 0 {
		p.Damage = fmt.Sprintf("from %.3f s on it is not the sound whose hash was kept", p.FirstAt)
	}
}

// undamaged decodes an audition, or says what is wrong with it.
func (b *Book) undamaged(h Heading) (samples [][]float64, damage string, err error) {
	flac, sum, err := b.audition(h.ID)
	if err != nil {
		return nil, "", err
	}
	if hashOf(flac) != sum {
		return nil, "its bytes do not have the hash they were kept with", nil
	}
	samples, rate, err := recording.DecodeFLAC(flac)
	switch {
	case err != nil:
		return nil, err.Error(), nil
	case rate != h.Rate || len(samples) != h.Channels:
		return nil, fmt.Sprintf("it has %d channels at %d Hz; the take says %d at %d Hz", len(samples), rate, h.Channels, h.Rate), nil
	}
	return samples, "", nil
}

// changedKinds lists the kinds that are of another version than in kept, by name.
func changedKinds(kept map[string]int) []string {
	var changed []string
	for name, version := range kept {
		now := "none"
		if k, ok := kind.Catalogue.Kind(name); ok {
			if k.Version == version {
				continue
			}
			now = fmt.Sprint(k.Version)
		}
		changed = append(changed, fmt.Sprintf("%s %d -> %s", name, version, now))
	}
	slices.Sort(changed)
	return changed
}
