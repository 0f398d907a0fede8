package notebook

import (
	"database/sql"
	"fmt"
	"strings"
	"unicode"
)

// MaxHits is the most takes that one search returns.
const MaxHits = 500

// Hit is a take that a search found.
type Hit struct {
	Take    Heading
	Cue     Cue
	Job     Job
	Snippet string   // a few words around the first match, on one line
	Matches [][2]int // byte ranges of Snippet: the words that match
}

// Search returns the takes in which every word of the query begins a word of
// the note, the tags, the cue's number or name, the job's name, or the names of
// the patch's modules; the best first (BM25; tags weigh most, then the note), up to
// MaxHits. Case and accents do not count, and no sign in the query has a
// meaning of its own. A query without a letter or a digit finds nothing.
func (b *Book) Search(query string) ([]Hit, error) {
	match := matchExpression(query)
	if match == "" {
		return nil, nil
	}
	hits, err := rows(b.read, `SELECT `+headingColumns+`,
		cue.id, cue.job, cue.number, cue.name, cue.timecode, cue.note, cue.made,
		job.id, job.name, job.note, job.made,
		snippet(search, -1, char(2), char(3), '…', 16)
		FROM search JOIN take ON take.id = search.rowid JOIN cue ON cue.id = take.cue JOIN job ON job.id = cue.job
		WHERE search MATCH ? ORDER BY bm25(search, 4, 6, 3, 2, 1), take.id DESC LIMIT ?`, scanHit, match, MaxHits)
	if err != nil {
		return nil, fmt.Errorf("searching for %q: %w", query, err)
	}
	return hits, nil
}

func scanHit(r scanner) (h Hit, err error) {
	var cueMade, jobMade int64
	var snippet string
	h.Take, err = scanHeading(r, &h.Cue.ID, &h.Cue.Job, &h.Cue.Number, &h.Cue.Name, &h.Cue.Timecode, &h.Cue.Note, &cueMade,
		&h.Job.ID, &h.Job.Name, &h.Job.Note, &jobMade, &snippet)
	h.Cue.Made, h.Job.Made = moment(cueMade), moment(jobMade)
	h.Snippet, h.Matches = unmark(snippet)
	return h, err
}

// matchExpression turns what a person typed into an FTS5 expression
// (sqlite.org/fts5.html, section 3): every word a quoted prefix. Inside quotes
// only the quote itself means something.
func matchExpression(query string) string {
	var words []string
	for _, word := range strings.FieldsFunc(query, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }) {
		// A word of signs alone has no token, and a phrase without one would match nothing.
		if strings.IndexFunc(word, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) >= 0 {
			words = append(words, `"`+strings.ReplaceAll(word, `"`, `""`)+`"*`)
		}
	}
	return strings.Join(words, " ")
}

// unmark takes the signs around matches out of a snippet, and puts it on one line.
func unmark(marked string) (string, [][2]int) {
	var text strings.Builder
	var matches [][2]int
	start := -1
	for _, r := range marked {
		switch {
		case r == 2:
			start = text.Len()
		case r == 3 && start >= 0:
			matches = append(matches, [2]int{start, text.Len()})
			start = -1
		case unicode.IsControl(r):
			text.WriteByte(' ')
		default:
			text.WriteRune(r)
		}
	}
	return text.String(), matches
}

// index writes the words of a take into the search index.
func index(tx *sql.Tx, t *Take) error {
	var modules []string
	for _, m := range t.Patch.Modules {
		modules = append(modules, m.Name)
	}
	_, err := tx.Exec(`INSERT INTO search (rowid, note, tags, cue, job, modules)
		SELECT ?, ?, ?, cue.number || ' ' || cue.name, job.name, ? FROM cue JOIN job ON job.id = cue.job WHERE cue.id = ?`,
		t.ID, t.Note, strings.Join(t.Tags, ", "), strings.Join(modules, ", "), t.Cue)
	return err
}
