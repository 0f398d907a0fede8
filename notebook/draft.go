package notebook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
)

// LockDraft takes hold of the work in progress for this Book. It returns
// ErrOpenElsewhere, with a sentence for people, while another Book has it, in
// this program or another. SaveDraft, Draft and DropDraft call it, so that a
// window calls it only to know early. The hold ends with Close, or with the
// program however that ends.
func (b *Book) LockDraft() error {
	b.desk.Lock()
	defer b.desk.Unlock()
	return b.lockDraft()
}

func (b *Book) lockDraft() error {
	if b.lock != nil {
		return nil
	}
	if b.write == nil {
		return fmt.Errorf("the work in progress can't be stored: %w: %s", ErrReadOnly, b.why)
	}
	lock, err := lockDraft(b.path, b.now())
	if err != nil {
		return err
	}
	b.lock = lock
	return nil
}

// SaveDraft stores the work in progress in place of what was stored before,
// with the time in Saved. When it returns without an error, the draft has reached
// the disk. If the disk is full, or another writer is at it for too long, the
// draft is held in memory: Draft gives it back, and the next SaveDraft replaces it.
func (b *Book) SaveDraft(d Draft) error {
	b.desk.Lock()
	defer b.desk.Unlock()
	if err := b.lockDraft(); err != nil {
		return err
	}
	d.Saved = b.clock()
	d = d.clone()
	if err := b.writeDraft(d); err != nil {
		b.held = &d
		return fmt.Errorf("the work in progress was not stored, it is only in memory: %w", err)
	}
	b.held = nil
	return nil
}

// clone returns a copy that shares nothing with d.
func (d Draft) clone() Draft {
	d.Patch, d.Memory, d.Tags = d.Patch.Clone(), d.Memory.Clone(), slices.Clone(d.Tags)
	return d
}

func (b *Book) writeDraft(d Draft) error {
	memoryJSON, err := writeMemory(d.Memory)
	if err != nil {
		return err
	}
	return b.change(context.Background(), func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO draft (id, cue, parent, patch, memory, note, tags, saved)
			VALUES (1, nullif(?, 0), nullif(?, 0), ?, ?, ?, ?, ?)
			ON CONFLICT (id) DO UPDATE SET cue = excluded.cue, parent = excluded.parent, patch = excluded.patch,
			memory = excluded.memory, note = excluded.note, tags = excluded.tags, saved = excluded.saved`,
			d.Cue, d.From, string(d.Patch.JSON()), string(memoryJSON), d.Note, list(d.Tags), d.Saved.UnixMilli())
		return noParent(err, "its cue or parent take, cue", int64(d.Cue))
	})
}

// Draft returns the work in progress that was stored last; ok is false if
// there is none. A window offers it when it opens.
func (b *Book) Draft() (d Draft, ok bool, err error) {
	b.desk.Lock()
	defer b.desk.Unlock()
	if err := b.lockDraft(); err != nil {
		return Draft{}, false, err
	}
	if b.held != nil {
		return b.held.clone(), true, nil
	}
	d, err = scanDraft(b.read.QueryRow("SELECT " + draftColumns + " FROM draft WHERE id = 1"))
	if errors.Is(err, sql.ErrNoRows) {
		return Draft{}, false, nil
	}
	if err != nil {
		return Draft{}, false, fmt.Errorf("the work in progress can't be read; it stays where it is until the next is stored: %w", err)
	}
	return d, true, nil
}

// draftColumns are what scanDraft reads.
const draftColumns = "ifnull(cue, 0), ifnull(parent, 0), patch, memory, note, tags, saved"

// scanDraft reads a row of the table draft; more takes what stands before
// draftColumns.
func scanDraft(row scanner, more ...any) (d Draft, err error) {
	var patchJSON, memoryJSON, tags string
	var saved int64
	if err := row.Scan(append(more, &d.Cue, &d.From, &patchJSON, &memoryJSON, &d.Note, &tags, &saved)...); err != nil {
		return Draft{}, reason(err)
	}
	d.Saved = moment(saved)
	d.Tags, err = unlist(tags)
	if err == nil {
		d.Patch, err = readPatch([]byte(patchJSON))
	}
	if err == nil {
		d.Memory, err = readMemory([]byte(memoryJSON))
	}
	if err != nil {
		return Draft{}, fmt.Errorf("stored on %s: %w", d.Saved, err)
	}
	return d, nil
}

// DropDraft forgets the work in progress, as after keeping it.
func (b *Book) DropDraft() error {
	b.desk.Lock()
	defer b.desk.Unlock()
	if err := b.lockDraft(); err != nil {
		return err
	}
	err := b.change(context.Background(), func(tx *sql.Tx) error {
		_, err := tx.Exec("DELETE FROM draft WHERE id = 1")
		return err
	})
	if err != nil {
		return fmt.Errorf("the work in progress was not dropped: %w", err)
	}
	b.held = nil
	return nil
}
