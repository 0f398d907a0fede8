package notebook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// AsideID numbers work that was set aside; it holds within one file only.
type AsideID int64

// Aside is work that was neither kept nor thrown away: another piece of work
// took its place on the bench.
type Aside struct {
	ID AsideID
	Draft
}

// SetAside stores d beside the work in progress, until DropAside. Work that is
// set aside already, with the same patch, memory, note and tags, is not stored
// again; its number comes back.
func (b *Book) SetAside(d Draft) (id AsideID, err error) {
	if b.write == nil {
		return 0, fmt.Errorf("the work can't be set aside: %w: %s", ErrReadOnly, b.why)
	}
	memoryJSON, err := writeMemory(d.Memory)
	if err != nil {
		return 0, err
	}
	values := []any{d.Cue, d.From, string(d.Patch.JSON()), string(memoryJSON), d.Note, list(d.Tags)}
	err = b.change(context.Background(), func(tx *sql.Tx) error {
		err := tx.QueryRow(`SELECT id FROM draft WHERE id > 1 AND ifnull(cue, 0) = ? AND ifnull(parent, 0) = ?
			AND patch = ? AND memory = ? AND note = ? AND tags = ?`, values...).Scan(&id)
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		return tx.QueryRow(`INSERT INTO draft (id, cue, parent, patch, memory, note, tags, saved)
			VALUES ((SELECT max(1, ifnull(max(id), 1)) + 1 FROM draft), nullif(?, 0), nullif(?, 0), ?, ?, ?, ?, ?)
			RETURNING id`, append(values, b.clock().UnixMilli())...).Scan(&id)
	})
	if err != nil {
		return 0, fmt.Errorf("the work was not set aside; it is still on the bench: %w", reason(err))
	}
	return id, nil
}

// Asides returns the work that was set aside, the latest first.
func (b *Book) Asides() ([]Aside, error) {
	asides, err := rows(b.read, "SELECT id, "+draftColumns+" FROM draft WHERE id > 1 ORDER BY saved DESC, id DESC",
		func(r scanner) (a Aside, err error) {
			a.Draft, err = scanDraft(r, &a.ID)
			return a, err
		})
	if err != nil {
		return nil, fmt.Errorf("the work that was set aside can't be read; it stays where it is: %w", err)
	}
	return asides, nil
}

// DropAside forgets work that was set aside, as after taking it up again.
// Without such work nothing happens.
func (b *Book) DropAside(id AsideID) error {
	if id <= 1 {
		return nil // the work in progress itself
	}
	err := b.change(context.Background(), func(tx *sql.Tx) error {
		_, err := tx.Exec("DELETE FROM draft WHERE id = ?", id)
		return err
	})
	if err != nil {
		return fmt.Errorf("the work that was set aside was not dropped: %w", err)
	}
	return nil
}
