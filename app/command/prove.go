package command

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"lampblack/notebook"

	"github.com/spf13/cobra"
)

const proofKeys = `With --json: a list of take, key, holds, identical, sha256 (of the samples as
they are now), null_db (the difference in dB re the audition, null if the
samples are identical), first_at (seconds to the first difference in 24 bits,
null if there is none), kinds_changed [kind], damage, verdict.`

type proofJSON struct {
	Take         string   `json:"take"`
	Key          string   `json:"key"`
	Holds        bool     `json:"holds"`
	Identical    bool     `json:"identical"`
	SHA256       string   `json:"sha256"`
	NullDB       *float64 `json:"null_db"`
	FirstAt      *float64 `json:"first_at"`
	KindsChanged []string `json:"kinds_changed"`
	Damage       string   `json:"damage,omitempty"`
	Verdict      string   `json:"verdict"`
}

func (s *session) prove() *cobra.Command {
	var every, asJSON bool
	c := &cobra.Command{
		Use:   "prove [TAKE...]",
		Short: "Prove that takes still sound as they did when they were kept",
		Long: `Prove that takes still sound as they did: each is rendered again from its patch
and memory, and compared with what was kept. A proof says bit-identical, or how
many dB down the difference is and which kinds of module changed since.
One that can't be rendered is told, and the rest is still proved.
The exit code is 0 if all are bit-identical and 1 if any is not.

` + proofKeys,
		Example: `  lampblack prove 1M4/3
  lampblack prove 1M4/3 2M1/2 --json
  lampblack prove --all && echo nothing has moved`,
		ValidArgsFunction: s.completeTakes(0, false),
		RunE: func(c *cobra.Command, names []string) error {
			if every == (len(names) > 0) {
				return errors.New("name the takes to prove, or all of them with --all (not both)")
			}
			return s.reading(func(b *notebook.Book, all contents) error {
				lines := all.lines
				if !every {
					var err error
					if lines, err = all.findAll(names); err != nil {
						return err
					}
				}
				return s.proveEach(c, b, lines, asJSON)
			})
		},
	}
	c.Flags().BoolVar(&every, "all", false, "prove every take of the notebook")
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) proveEach(c *cobra.Command, b *notebook.Book, lines []line, asJSON bool) error {
	bar := s.progress("proving")
	defer bar.end()
	held, results := 0, []proofJSON{}
	for i, l := range lines {
		n := float64(len(lines))
		proof, err := b.Prove(c.Context(), l.take.ID, bar.part(float64(i)/n, float64(i+1)/n))
		if c.Context().Err() != nil {
			return c.Context().Err()
		}
		result := newProofJSON(l, proof, err)
		if result.Holds {
			held++
		}
		if !asJSON {
			bar.end()
			fmt.Fprintf(s.text, "%-8s %-5s %s\n", l.name(), l.key(), result.Verdict)
		}
		results = append(results, result)
	}
	if asJSON {
		if err := s.printJSON(results); err != nil {
			return err
		}
	} else {
		fmt.Fprintf(s.text, "%d of %d takes bit-identical\n", held, len(lines))
	}
	if held < len(lines) {
		return errNotHeld
	}
	return nil
}

// newProofJSON returns the outcome of a proof. A take that could not even be
// rendered (err) does not hold either; the others are still proved.
func newProofJSON(l line, p notebook.Proof, err error) proofJSON {
	if err != nil {
		return proofJSON{Take: l.name(), Key: l.key(), KindsChanged: []string{}, Verdict: "not proved: " + err.Error()}
	}
	return proofJSON{
		Take: l.name(), Key: l.key(), Holds: p.OK(), Identical: p.Identical, SHA256: p.SHA256,
		NullDB: finite(p.NullDB, !p.Identical), FirstAt: finite(p.FirstAt, !p.Identical),
		KindsChanged: append([]string{}, p.Changed...), Damage: p.Damage, Verdict: verdict(p),
	}
}

// verdict returns what a proof says, without the take's number: the line has it.
func verdict(p notebook.Proof) string {
	return strings.TrimPrefix(p.String(), fmt.Sprintf("take %d: ", p.Take.Number))
}

// finite returns v for JSON, which has no infinity, or nil.
func finite(v float64, wanted bool) *float64 {
	if !wanted || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
