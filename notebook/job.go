package notebook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Jobs returns all jobs in the order in which they were added.
func (b *Book) Jobs() ([]Job, error) {
	return rows(b.read, "SELECT id, name, note, made FROM job ORDER BY id", func(r scanner) (j Job, err error) {
		var made int64
		err = r.Scan(&j.ID, &j.Name, &j.Note, &made)
		j.Made = moment(made)
		return j, err
	})
}

// Untouched tells whether nobody has ever added a job: also a job that was removed
// counts.
func (b *Book) Untouched() (bool, error) {
	ever, err := rows(b.read, "SELECT count(*) FROM sqlite_sequence WHERE name = 'job'", func(r scanner) (n int, err error) {
		err = r.Scan(&n)
		return n, err
	})
	return err == nil && ever[0] == 0, err
}

// AddJob adds a job of j's name and note. The name must be new (ErrTaken).
func (b *Book) AddJob(j Job) (Job, error) {
	j.Name = strings.TrimSpace(j.Name)
	j.Made = b.clock()
	if j.Name == "" {
		return Job{}, errors.New("the job has no name; give it one; it was not added")
	}
	if err := oneLine("the job's name", j.Name); err != nil {
		return Job{}, fmt.Errorf("%w; it was not added", err)
	}
	err := b.change(context.Background(), func(tx *sql.Tx) error {
		done, err := tx.Exec("INSERT INTO job (name, note, made) VALUES (?, ?, ?)", j.Name, j.Note, j.Made.UnixMilli())
		if err != nil {
			return err
		}
		id, err := done.LastInsertId()
		j.ID = JobID(id)
		return err
	})
	if err != nil {
		return Job{}, fmt.Errorf("job %q was not added: %w", j.Name, taken(err))
	}
	return j, nil
}

// EditJob gives the job j.ID the name and note of j.
func (b *Book) EditJob(j Job) error {
	j.Name = strings.TrimSpace(j.Name)
	if j.Name == "" {
		return errors.New("the job has no name; give it one; it stays as it was")
	}
	if err := oneLine("the job's name", j.Name); err != nil {
		return fmt.Errorf("%w; it stays as it was", err)
	}
	err := b.one("UPDATE job SET name = ?, note = ? WHERE id = ?", j.Name, j.Note, j.ID)
	if err != nil {
		return fmt.Errorf("job %q stays as it was: %w", j.Name, taken(err))
	}
	return nil
}

// RemoveJob removes a job that has no cues (else ErrInUse).
func (b *Book) RemoveJob(id JobID) error {
	if err := b.one("DELETE FROM job WHERE id = ?", id); err != nil {
		return fmt.Errorf("the job was not removed: %w", inUse(err, "it has cues"))
	}
	return nil
}

// Cues returns the cues of a job by their number: 1M2 stands before 1M10.
func (b *Book) Cues(job JobID) ([]Cue, error) {
	cues, err := rows(b.read, "SELECT "+cueColumns+" FROM cue WHERE job = ?", scanCue, job)
	sortCues(cues)
	return cues, err
}

// Cue returns one cue.
func (b *Book) Cue(id CueID) (Cue, error) {
	c, err := scanCue(b.read.QueryRow("SELECT "+cueColumns+" FROM cue WHERE id = ?", id))
	if err != nil {
		return Cue{}, fmt.Errorf("cue %d: %w", id, missing(err))
	}
	return c, nil
}

// AddCue adds a cue to the job c.Job. Its number must be new there (ErrTaken).
func (b *Book) AddCue(c Cue) (Cue, error) {
	c.Number = strings.TrimSpace(c.Number)
	c.Made = b.clock()
	if c.Number == "" {
		return Cue{}, errors.New("the cue has no number; give it one, such as 1M4; it was not added")
	}
	if err := c.oneLine(); err != nil {
		return Cue{}, fmt.Errorf("%w; it was not added", err)
	}
	err := b.change(context.Background(), func(tx *sql.Tx) error {
		done, err := tx.Exec("INSERT INTO cue (job, number, name, timecode, note, made) VALUES (?, ?, ?, ?, ?, ?)",
			c.Job, c.Number, c.Name, c.Timecode, c.Note, c.Made.UnixMilli())
		if err != nil {
			return err
		}
		id, err := done.LastInsertId()
		c.ID = CueID(id)
		return err
	})
	if err != nil {
		return Cue{}, fmt.Errorf("cue %q was not added: %w", c.Number, noParent(taken(err), "job", int64(c.Job)))
	}
	return c, nil
}

// EditCue gives the cue c.ID the job, number, name, timecode and note of c.
func (b *Book) EditCue(c Cue) error {
	c.Number = strings.TrimSpace(c.Number)
	if c.Number == "" {
		return errors.New("the cue has no number; give it one, such as 1M4; it stays as it was")
	}
	if err := c.oneLine(); err != nil {
		return fmt.Errorf("%w; it stays as it was", err)
	}
	err := b.one("UPDATE cue SET job = ?, number = ?, name = ?, timecode = ?, note = ? WHERE id = ?",
		c.Job, c.Number, c.Name, c.Timecode, c.Note, c.ID)
	if err != nil {
		return fmt.Errorf("cue %q stays as it was: %w", c.Number, noParent(taken(err), "job", int64(c.Job)))
	}
	return nil
}

// RemoveCue removes a cue that has no takes (else ErrInUse).
func (b *Book) RemoveCue(id CueID) error {
	if err := b.one("DELETE FROM cue WHERE id = ?", id); err != nil {
		return fmt.Errorf("the cue was not removed: %w", inUse(err, "it has takes, and takes are kept for ever"))
	}
	return nil
}

const cueColumns = "id, job, number, name, timecode, note, made"

func scanCue(r scanner) (c Cue, err error) {
	var made int64
	err = r.Scan(&c.ID, &c.Job, &c.Number, &c.Name, &c.Timecode, &c.Note, &made)
	c.Made = moment(made)
	return c, err
}

// clock returns the time in UTC as the file can hold it.
func (b *Book) clock() time.Time { return moment(b.now().UnixMilli()) }

func moment(milliseconds int64) time.Time { return time.UnixMilli(milliseconds).UTC() }

// one runs a statement that must reach exactly one row.
func (b *Book) one(query string, values ...any) error {
	return b.change(context.Background(), func(tx *sql.Tx) error {
		done, err := tx.Exec(query, values...)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return errors.Join(ErrMissing, err)
		}
		return nil
	})
}

// scanner is a row or the rows of a query.
type scanner interface{ Scan(...any) error }

// rows collects what a query gives.
func rows[T any](db *sql.DB, query string, scan func(scanner) (T, error), values ...any) ([]T, error) {
	r, err := db.Query(query, values...)
	if err != nil {
		return nil, reason(err)
	}
	defer r.Close()
	var all []T
	for r.Next() {
		one, err := scan(r)
		if err != nil {
			return nil, reason(err)
		}
		all = append(all, one)
	}
	return all, reason(r.Err())
}

// missing turns "no rows" into ErrMissing.
func missing(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrMissing
	}
	return reason(err)
}

// extended returns SQLite's extended result code, or 0.
func extended(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code()
	}
	return 0
}

func taken(err error) error {
	if extended(err) == sqlite3.SQLITE_CONSTRAINT_UNIQUE {
		return ErrTaken
	}
	return err
}

func inUse(err error, why string) error {
	switch extended(err) {
	case sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY, sqlite3.SQLITE_CONSTRAINT_TRIGGER:
		return fmt.Errorf("%w: %s", ErrInUse, why)
	}
	return err
}

// noParent says which row a foreign key did not find.
func noParent(err error, what string, id int64) error {
	if extended(err) == sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY {
		return fmt.Errorf("%s %d: %w", what, id, ErrMissing)
	}
	return err
}
