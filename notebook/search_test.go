package notebook

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// shelf is a notebook with five takes in two cues.
func shelf(t testing.TB) *Book {
	b := openNew(t)
	moths := glasshouse(t, b)
	roof := must(b.AddCue(Cue{Job: moths.Job, Number: "2M1", Name: "Roof vent opens"}))(t)
	for _, take := range []struct {
		cue  Cue
		note string
		tags []string
	}{
		{moths, "Too dry; narrow the band.", []string{"night"}},
		{moths, "Pitch is right, wants wings.", nil},
		{moths, "Wings at 23 Hz. Keep.", []string{"wings", "night", "glass"}},
		{roof, "Smooth, nothing rattles. Ça ira, Straße.", []string{"metal"}},
		{roof, "Width down from 310 to 45 Hz:\nnow it has a pitch.", nil},
	} {
		n := short(take.cue, dust())
		n.Note, n.Tags = take.note, take.tags
		keep(t, b, n)
	}
	return b
}

func TestSearch(t *testing.T) {
	b := shelf(t)
	for _, c := range []struct {
		name, query string
		want        []int // ids, the best first where the reason says so
		why         string
	}{
		{"a word of a note", "rattles", []int{4}, "note"},
		{"the beginning of a word", "rattl", []int{4}, "prefix"},
		{"not the middle of a word", "attles", nil, "words are found from their beginning"},
		{"a tag weighs more than a note", "wings", []int{3, 2}, "weights 6 and 4"},
		{"any case", "WINGS", []int{3, 2}, "unicode61 folds case"},
		{"without accents", "ca ira", []int{4}, "remove_diacritics"},
		{"two words, both must be there", "wings 23", []int{3}, "AND"},
		{"words of tag and note together", "night keep", []int{3}, "over all columns"},
		{"the number of a cue", "2m1", []int{5, 4}, "cue"},
		{"the name of a cue and a word of the note", "roof pitch", []int{5}, "cue and note"},
		{"the name of the job", "glasshouse pitch", []int{5, 2}, "job"},
		{"the name of a module", "dust rattles", []int{4}, "modules"},
		{"nothing that is there", "submarine", nil, "no hit"},
		{"nothing", "", nil, "empty"},
		{"signs only", `*"():^-+`, nil, "no letter, no digit"},
		{"a quote", `"wings`, []int{3, 2}, "quotes mean nothing"},
		{"operators are words", "wings OR rattles", nil, "OR is looked for as a word"},
		{"a column filter is a word", "note:wings", nil, "a colon means nothing"},
		{"a number with its unit", "23 Hz", []int{3}, "numbers are words"},
	} {
		t.Run(c.name, func(t *testing.T) {
			hits := must(b.Search(c.query))(t)
			var got []int
			for _, h := range hits {
				got = append(got, int(h.Take.ID))
			}
			ranked := strings.HasPrefix(c.why, "weights")
			if !ranked {
				slices.Sort(got)
				slices.Sort(c.want)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("%q found %v, want %v (%s)", c.query, got, c.want, c.why)
			}
		})
	}
}

func TestHitSaysWhere(t *testing.T) {
	b := shelf(t)
	h := must(b.Search("pitch 310"))(t)[0]
	if h.Cue.Number != "2M1" || h.Job.Name != "The Glasshouse" || h.Take.Number != 2 {
		t.Errorf("found %s, %s, take %d", h.Job.Name, h.Cue.Number, h.Take.Number)
	}
	if strings.ContainsAny(h.Snippet, "\n\x02\x03") {
		t.Errorf("the snippet is not one plain line: %q", h.Snippet)
	}
	var marked []string
	for _, m := range h.Matches {
		marked = append(marked, h.Snippet[m[0]:m[1]])
	}
	if !slices.Equal(marked, []string{"310", "pitch"}) {
		t.Errorf("marked %q in %q", marked, h.Snippet)
	}
}

func TestSearchFollowsRenaming(t *testing.T) {
	b := shelf(t)
	job := must(b.Jobs())(t)[0]
	cue := must(b.Cues(job.ID))(t)[0]
	cue.Name, job.Name = "Beetles in the moss", "The Fernery"
	if err := b.EditCue(cue); err != nil {
		t.Fatal(err)
	}
	if err := b.EditJob(job); err != nil {
		t.Fatal(err)
	}
	for query, want := range map[string]int{"beetles": 3, "lamp": 0, "fernery": 5, "glasshouse": 0} {
		if hits := must(b.Search(query))(t); len(hits) != want {
			t.Errorf("%q finds %d takes, want %d", query, len(hits), want)
		}
	}
}

// Whatever is typed: no error, and what is found has every word. The slow
// obvious search beside it looks through every take.
func TestAnythingCanBeTyped(t *testing.T) {
	b := shelf(t)
	word := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
		"wings", "ni", "45", `"`, `""`, "*", "AND", "OR", "NOT", "NEAR(", "note:", "{note tags}:", "^wings", "a-b", "(", ")", "\x00", "'", ";--", "pitch*",
	}))
	rapid.Check(t, func(r *rapid.T) {
		query := strings.Join(rapid.SliceOfN(word, 0, 5).Draw(r, "words"), rapid.SampledFrom([]string{" ", "", "\t"}).Draw(r, "between"))
		hits, err := b.Search(query)
		if err != nil {
			r.Fatal(err)
		}
		if plainWords(query) {
			if want := obviousSearch(t, b, query); len(hits) != want {
				r.Fatalf("%q found %d takes, the obvious search %d", query, len(hits), want)
			}
		}
		for _, h := range hits {
			for _, m := range h.Matches {
				_ = h.Snippet[m[0]:m[1]]
			}
		}
	})
}

// plainWords reports whether a query is of ASCII letters, digits and spaces,
// for which the obvious search knows what a word is.
func plainWords(query string) bool {
	return strings.TrimSpace(query) != "" && strings.IndexFunc(query, func(r rune) bool {
		return r != ' ' && !('a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9')
	}) < 0
}

func obviousSearch(t *testing.T, b *Book, query string) (n int) {
	for _, h := range must(b.AllTakes())(t) {
		take := must(b.Take(h.ID))(t)
		cue := must(b.Cue(h.Cue))(t)
		text := h.Note + " " + strings.Join(h.Tags, " ") + " " + cue.Number + " " + cue.Name + " The Glasshouse"
		for _, m := range take.Patch.Modules {
			text += " " + m.Name
		}
		words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
		all := true
		for _, want := range strings.Fields(strings.ToLower(query)) {
			all = all && slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, want) })
		}
		if all {
			n++
		}
	}
	return n
}
