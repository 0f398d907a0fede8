package notebook

import (
	"context"
	"database/sql"
	"fmt"
	"os"
)

// Health is what Check found.
type Health struct {
	Jobs, Cues, Takes, Recordings int
	Bytes                         int64    // of the file and its log
	Faults                        []string // one sentence each; none: all is well
}

// Check looks for damage in the whole file: the structure (PRAGMA
// integrity_check), the references, the search index, and the
// hash of every take, audition and recording. It changes nothing. progress, which may be nil, is called with 0 to 1.
func (b *Book) Check(ctx context.Context, progress func(done float64)) (Health, error) {
	h, err := b.figures(ctx)
	if err != nil {
		return h, fmt.Errorf("the check was not made: %w", err)
	}
	for _, look := range []func(context.Context, *Health) error{b.checkStructure, b.checkReferences, b.checkIndex} {
		if err := look(ctx, &h); err != nil {
			return h, fmt.Errorf("the check was broken off: %w", err)
		}
	}
	if err := b.checkFiles(ctx, &h, progress); err != nil {
		return h, fmt.Errorf("the check was broken off: %w", err)
	}
	return h, nil
}

func (h *Health) fault(format string, values ...any) {
	h.Faults = append(h.Faults, fmt.Sprintf(format, values...))
}

// figures counts what is in the file.
func (b *Book) figures(ctx context.Context) (h Health, err error) {
	err = b.read.QueryRowContext(ctx, `SELECT (SELECT count(*) FROM job), (SELECT count(*) FROM cue),
		(SELECT count(*) FROM take), (SELECT count(*) FROM recording)`).Scan(&h.Jobs, &h.Cues, &h.Takes, &h.Recordings)
	for _, end := range []string{"", "-wal"} {
		if info, err := os.Stat(b.path + end); err == nil {
			h.Bytes += info.Size()
		}
	}
	return h, reason(err)
}

func (b *Book) checkStructure(ctx context.Context, h *Health) error {
	found, err := rows(b.read, "PRAGMA integrity_check", func(r scanner) (s string, err error) { return s, r.Scan(&s) })
	if err != nil {
		return err
	}
	for _, line := range found {
		if line != "ok" {
			h.fault("structure: %s", line)
		}
	}
	return ctx.Err()
}

func (b *Book) checkReferences(ctx context.Context, h *Health) error {
	type lost struct{ table, parent string }
	found, err := rows(b.read, `SELECT "table", parent FROM pragma_foreign_key_check`,
		func(r scanner) (l lost, err error) { return l, r.Scan(&l.table, &l.parent) })
	if err != nil {
		return err
	}
	for _, l := range found {
		h.fault("a row of %s names a row of %s that is not there", l.table, l.parent)
	}
	return ctx.Err()
}

// checkIndex compares the search index with the takes.
func (b *Book) checkIndex(ctx context.Context, h *Health) error {
	var missing, extra int
	err := b.read.QueryRowContext(ctx, `SELECT
		(SELECT count(*) FROM take WHERE id NOT IN (SELECT rowid FROM search)),
		(SELECT count(*) FROM search WHERE rowid NOT IN (SELECT id FROM take))`).Scan(&missing, &extra)
	if missing+extra > 0 {
		h.fault("search: %d takes can't be found, %d entries are of no take", missing, extra)
	}
	return reason(err)
}

// checkFiles compares every audition and recording with its hash.
func (b *Book) checkFiles(ctx context.Context, h *Health, progress func(float64)) error {
	takes, err := b.AllTakes()
	if err != nil {
		return err
	}
	sums, err := rows(b.read, "SELECT sha256 FROM recording ORDER BY sha256", func(r scanner) (s string, err error) { return s, r.Scan(&s) })
	if err != nil {
		return err
	}
	done, all := 0, len(takes)+len(sums)
	step := func() error {
		if done++; progress != nil {
			progress(float64(done) / float64(all))
		}
		return ctx.Err()
	}
	for _, t := range takes {
		if _, err := b.Take(t.ID); err != nil {
			h.fault("cue %d: %v", t.Cue, err)
		}
		if _, damage, err := b.undamaged(t); err != nil {
			h.fault("take %d of cue %d: %v", t.Number, t.Cue, err)
		} else if damage != "" {
			h.fault("take %d of cue %d: its audition is damaged: %s", t.Number, t.Cue, damage)
		}
		if err := step(); err != nil {
			return err
		}
	}
	for _, sum := range sums {
		if _, err := b.Recording(sum); err != nil {
			h.fault("%v", err)
		}
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// ChangedElsewhere returns a number that is another one after another Book has
// changed the file: a window that shows the contents compares and reads again.
func (b *Book) ChangedElsewhere() (int64, error) {
	var version int64
	db := b.write // one connection: data_version counts the changes of all others
	if db == nil {
		db = b.read
	}
	err := db.QueryRow("PRAGMA data_version").Scan(&version)
	return version, reason(ignoreNone(err))
}

func ignoreNone(err error) error {
	if err == sql.ErrNoRows {
		return nil
	}
	return err
}
