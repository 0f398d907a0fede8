package notebook

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"lampblack/patch/recording"

	"pgregory.net/rapid"
)

// forge keeps a take whose audition and hash are not those of its patch, as a
// take looks whose module kinds have changed since.
func forge(t *testing.T, b *Book, cue Cue, change func(audition []float64), kinds map[string]int) Take {
	t.Helper()
	n := short(cue, dust())
	n.Seconds, n.Rate = 1, 8000
	p := must(b.compose(context.Background(), n, nil))(t)
	samples, rate, err := recording.DecodeFLAC(p.flac)
	if err != nil {
		t.Fatal(err)
	}
	change(samples[0])
	var flac bytes.Buffer
	if err := recording.EncodeFLAC(&flac, samples, rate); err != nil {
		t.Fatal(err)
	}
	p.flac, p.take.SHA256, p.take.Kinds = flac.Bytes(), strings.Repeat("0", 64), kinds
	if err := b.change(context.Background(), p.write); err != nil {
		t.Fatal(err)
	}
	return p.take
}

func TestProofOfATakeThatDiffers(t *testing.T) {
	same := map[string]int{"noise": 2, "output": 1}
	for _, c := range []struct {
		name   string
		change func(x []float64)
		kinds  map[string]int
		db     float64
		within float64 // dB
		first  float64
		says   string
		source string
	}{
		{"halved", gain(0, 0.5), same, 0, 0.001, 0, "null at 0.0 dB, from 0.000 s",
			"what is left, x - x/2, is as large as the audition x/2: 20 lg 1"},
		{"1 % too loud", gain(0, 1/1.01), same, -40, 0.01, 0, "null at -40.0 dB",
			"the render is 1.01 times the audition: 20 lg 0.01"},
		{"turned over", gain(0, -1), same, 6.0206, 0.001, 0, "null at 6.0 dB", "20 lg 2"},
		{"1 % too loud in its second half", gain(4000, 1/1.01), map[string]int{"noise": 0, "output": 1, "moth": 3}, -43.01, 0.2, 0.5,
			" dB, from 0.500 s; changed since: moth 3 -> none, noise 0 -> 2",
			"half of the power of the row above: -40 dB - 10 lg 2; the two halves of white noise have the same power within 0.2 dB (three standard deviations of 4,000 squares)"},
		{"in nothing that 24 bits show", func([]float64) {}, same, math.Inf(-1), 0, math.NaN(), "-144 dB", "the audition is the render, the hash is not"},
		{"from a silent audition", gain(0, 0), same, math.Inf(1), 0, 0, "audition is silent", "division by silence"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := openNew(t)
			take := forge(t, b, glasshouse(t, b), c.change, c.kinds)
			p, err := b.Prove(context.Background(), take.ID, nil)
			if err != nil || p.OK() || p.Identical || p.Damage != "" {
				t.Fatalf("%+v, %v", p, err)
			}
			if !(math.Abs(p.NullDB-c.db) <= c.within) && p.NullDB != c.db {
				t.Errorf("null at %g dB, want %g within %g (%s)", p.NullDB, c.db, c.within, c.source)
			}
			if p.FirstAt != c.first && !(math.IsNaN(p.FirstAt) && math.IsNaN(c.first)) && math.Abs(p.FirstAt-c.first) > 2.0/8000 {
				t.Errorf("differs from %g s, want %g", p.FirstAt, c.first)
			}
			if !strings.HasPrefix(p.String(), "take 1: differs") || !strings.Contains(p.String(), c.says) {
				t.Errorf("it says %q, want %q", p, c.says)
			}
			var v map[string]any
			if text, err := json.Marshal(p); err != nil || json.Unmarshal(text, &v) != nil || v["ok"] != false || v["text"] != p.String() {
				t.Errorf("as JSON: %v, %v", v, err)
			}
		})
	}
}

// gain multiplies the samples from first on.
func gain(first int, g float64) func([]float64) {
	return func(x []float64) {
		for i := first; i < len(x); i++ {
			x[i] *= g
		}
	}
}

func TestProofOfATakeThatIsIdentical(t *testing.T) {
	b := openNew(t)
	n := short(glasshouse(t, b), dust())
	n.Seconds = 8.2
	take := keep(t, b, n)
	told := 0.0
	p, err := b.Prove(context.Background(), take.ID, func(done float64) { told = done })
	want := "take 1: bit-identical (8.2 s, sha256 " + take.SHA256[:4] + "...)"
	if err != nil || !p.OK() || p.String() != want {
		t.Errorf("%q, %v; want %q", p, err, want)
	}
	if told != 1 {
		t.Errorf("progress ended at %g", told)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := b.Prove(ctx, take.ID, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// tamper changes a file as no Book can: its triggers are taken out first.
func tamper(t *testing.T, b *Book, statements ...string) {
	t.Helper()
	for _, s := range statements {
		if _, err := b.write.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
}

func TestDamageIsFound(t *testing.T) {
	silence := func(t *testing.T, seconds float64, rate int) []byte {
		var flac bytes.Buffer
		if err := recording.EncodeFLAC(&flac, [][]float64{make([]float64, int(seconds*float64(rate)))}, rate); err != nil {
			t.Fatal(err)
		}
		return flac.Bytes()
	}
	for _, c := range []struct {
		name, says string
		damage     func(t *testing.T, b *Book)
	}{
		{"a bit of the audition", "do not have the hash", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER audition_update", "UPDATE audition SET flac = CAST(flac || x'00' AS BLOB)")
		}},
		{"another audition with its own hash", "not the sound whose hash was kept", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER audition_update")
			other := silence(t, 0.02, 8000)
			must(b.write.Exec("UPDATE audition SET flac = ?, sha256 = ?", other, hashOf(other)))(t)
		}},
		{"an audition at another rate", "at 16000 Hz", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER audition_update")
			other := silence(t, 0.02, 16000)
			must(b.write.Exec("UPDATE audition SET flac = ?, sha256 = ?", other, hashOf(other)))(t)
		}},
		{"an audition that is no FLAC file", "file", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER audition_update")
			must(b.write.Exec("UPDATE audition SET flac = ?, sha256 = ?", []byte("moth"), hashOf([]byte("moth"))))(t)
		}},
		{"a word of the note", "does not have the hash", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER take_update", "UPDATE take SET note = 'bees'")
		}},
		{"a take that can't be searched for", "can't be found", func(t *testing.T, b *Book) {
			tamper(t, b, "DELETE FROM search")
		}},
		{"an audition that is gone", "not in the notebook", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER audition_delete", "DELETE FROM audition")
		}},
		{"a reference to nothing", "names a row", func(t *testing.T, b *Book) {
			tamper(t, b, "PRAGMA foreign_keys = 0", "DELETE FROM job", "PRAGMA foreign_keys = 1")
		}},
		{"a recording", "do not have the hash", func(t *testing.T, b *Book) {
			tamper(t, b, "DROP TRIGGER recording_update", "UPDATE recording SET file = x'00'")
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := openNew(t)
			file := wave(t)
			n := short(glasshouse(t, b), reed(hashOf(file)))
			n.Recordings = map[string][]byte{hashOf(file): file}
			take := keep(t, b, n)
			if h := must(b.Check(context.Background(), nil))(t); len(h.Faults) > 0 {
				t.Fatalf("faults before any damage: %q", h.Faults)
			}
			c.damage(t, b)
			h := must(b.Check(context.Background(), nil))(t)
			if !strings.Contains(strings.Join(h.Faults, "\n"), c.says) && !strings.HasPrefix(c.name, "another audition") {
				t.Errorf("Check says %q, want %q", h.Faults, c.says)
			}
			p, err := b.Prove(context.Background(), take.ID, nil)
			if strings.Contains(c.name, "audition") && err == nil && (p.OK() || !strings.Contains(p.Damage, c.says)) {
				t.Errorf("the proof says %q, want %q", p, c.says)
			}
			var out buffer
			if err := b.Export(take.ID, &out); err == nil && strings.HasPrefix(c.name, "a bit") {
				t.Error("a damaged take was exported")
			}
		})
	}
}

// The rounding of proofs is that of auditions.
func TestRound24IsWhatFLACHolds(t *testing.T) {
	step := math.Ldexp(1, -23)
	sample := rapid.OneOf(rapid.Float64Range(-1.5, 1.5), rapid.Float64Range(-3*step, 3*step),
		rapid.Custom(func(r *rapid.T) float64 { return (float64(rapid.IntRange(-5, 5).Draw(r, "n")) + 0.5) * step }),
		rapid.SampledFrom([]float64{0, 1, -1, 1 - step/2, -1 - step, 8, -8}))
	rapid.Check(t, func(r *rapid.T) {
		x := rapid.SliceOfN(sample, 1, 50).Draw(r, "samples")
		var flac bytes.Buffer
		if err := recording.EncodeFLAC(&flac, [][]float64{x}, 48000); err != nil {
			r.Fatal(err)
		}
		back, _, err := recording.DecodeFLAC(flac.Bytes())
		if err != nil {
			r.Fatal(err)
		}
		for i := range x {
			if back[0][i] != round24(x[i]) {
				r.Fatalf("%g is %g in the file and %g here", x[i], back[0][i], round24(x[i]))
			}
		}
	})
}
