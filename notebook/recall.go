package notebook

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"

	"lampblack/patch/recording"
)

const headingColumns = `take.id, take.cue, take.number, take.kept, ifnull(take.parent, 0), take.origin, take.note, take.tags,
	EXISTS (SELECT 1 FROM star WHERE star.take = take.id),
	take.asked, take.seconds, take.rate, take.channels, take.peak, take.sha256, take.kinds, take.program`

// scanHeading reads headingColumns, and more columns behind them.
func scanHeading(r scanner, more ...any) (h Heading, err error) {
	var kept int64
	var tags, kinds string
	err = r.Scan(append([]any{&h.ID, &h.Cue, &h.Number, &kept, &h.From, &h.Origin, &h.Note, &tags,
		&h.Star, &h.Asked, &h.Seconds, &h.Rate, &h.Channels, &h.Peak, &h.SHA256, &kinds, &h.Program}, more...)...)
	if err != nil {
		return h, err
	}
	h.Kept = moment(kept)
	if h.Tags, err = unlist(tags); err != nil {
		return h, fmt.Errorf("take %d: %w: its tags: %w", h.Number, ErrDamaged, err)
	}
	if err = json.Unmarshal([]byte(kinds), &h.Kinds); err != nil {
		return h, fmt.Errorf("take %d: %w: its kinds: %w", h.Number, ErrDamaged, err)
	}
	return h, nil
}

// Takes returns the headings of a cue's takes by their number.
func (b *Book) Takes(cue CueID) ([]Heading, error) {
	return rows(b.read, "SELECT "+headingColumns+" FROM take WHERE cue = ? ORDER BY number",
		func(r scanner) (Heading, error) { return scanHeading(r) }, cue)
}

// AllTakes returns the headings of all takes in the order in which they were kept.
func (b *Book) AllTakes() ([]Heading, error) {
	return rows(b.read, "SELECT "+headingColumns+" FROM take ORDER BY id",
		func(r scanner) (Heading, error) { return scanHeading(r) })
}

// Take returns a take as it was kept, or ErrMissing.
func (b *Book) Take(id TakeID) (Take, error) {
	var patchJSON, memoryJSON, digest string
	h, err := scanHeading(b.read.QueryRow("SELECT "+headingColumns+", take.patch, take.memory, take.digest FROM take WHERE id = ?", id),
		&patchJSON, &memoryJSON, &digest)
	if err != nil {
		return Take{}, fmt.Errorf("take with the id %d: %w", id, missing(err))
	}
	t := Take{Heading: h, PatchJSON: []byte(patchJSON), MemoryJSON: []byte(memoryJSON)}
	if t.digest() != digest {
		return Take{}, fmt.Errorf("take %d: %w: what its page says does not have the hash that it was kept with", h.Number, ErrDamaged)
	}
	if err := t.read(); err != nil {
		return Take{}, fmt.Errorf("take %d: it stays as it is: %w", h.Number, err)
	}
	t.Recordings, err = rows(b.read, `SELECT recording, take_recording.name, length(file) FROM take_recording
		JOIN recording ON sha256 = recording WHERE take = ? ORDER BY recording`,
		func(r scanner) (l RecordingLine, err error) { return l, r.Scan(&l.SHA256, &l.Name, &l.Bytes) }, id)
	if err != nil {
		return Take{}, fmt.Errorf("take %d: its recordings: %w", h.Number, err)
	}
	return t, nil
}

// FindTake returns the take with that number in the cue, or ErrMissing.
func (b *Book) FindTake(cue CueID, number int) (Heading, error) {
	h, err := scanHeading(b.read.QueryRow("SELECT "+headingColumns+" FROM take WHERE cue = ? AND number = ?", cue, number))
	if err != nil {
		return Heading{}, fmt.Errorf("take %d: %w", number, missing(err))
	}
	return h, nil
}

// AuditionFLAC returns the audition of a take as the file that is kept: FLAC,
// 24 bit. Bytes that no longer have their hash are refused with ErrDamaged.
func (b *Book) AuditionFLAC(id TakeID) ([]byte, error) {
	flac, sum, err := b.audition(id)
	if err != nil {
		return nil, err
	}
	if hashOf(flac) != sum {
		return nil, fmt.Errorf("the audition of the take with the id %d: %w: its bytes do not have the hash they were kept with", id, ErrDamaged)
	}
	return flac, nil
}

// audition returns the kept bytes and the hash that they should have.
func (b *Book) audition(id TakeID) (flac []byte, sum string, err error) {
	err = b.read.QueryRow("SELECT flac, sha256 FROM audition WHERE take = ?", id).Scan(&flac, &sum)
	if err != nil {
		return nil, "", fmt.Errorf("the audition of the take with the id %d: %w", id, missing(err))
	}
	return flac, sum, nil
}

// Audition returns the samples of a take's audition: 1 or 2 channels of equal
// length at rate samples a second, +-1.0 is full scale, in steps of 24 bits.
func (b *Book) Audition(id TakeID) (channels [][]float64, rate int, err error) {
	flac, err := b.AuditionFLAC(id)
	if err != nil {
		return nil, 0, err
	}
	return recording.DecodeFLAC(flac)
}

// Star sets or takes away the mark of a take that is meant to be used. It is
// the only thing about a take that can change.
func (b *Book) Star(id TakeID, on bool) error {
	query := "DELETE FROM star WHERE take = ?"
	if on {
		query = "INSERT INTO star (take) VALUES (?) ON CONFLICT DO NOTHING"
	}
	err := b.change(context.Background(), func(tx *sql.Tx) error {
		_, err := tx.Exec(query, id)
		return noParent(err, "take with the id", int64(id))
	})
	if err != nil {
		return fmt.Errorf("the star was not changed: %w", err)
	}
	return nil
}
