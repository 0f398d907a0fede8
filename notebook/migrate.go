package notebook

import (
	"database/sql"
	_ "embed"
	"fmt"
)

// applicationID marks the file as ours in the SQLite header (bytes 68 to 71,
// sqlite.org/fileformat2.html section 1.3): "LmpB" in ASCII.
const applicationID = 0x4c6d7042

//go:embed schema.sql
var version1 string

// steps holds one SQL text a version: steps[0] makes version 1 out of an empty
// file, steps[n] makes version n+1 out of version n. A step that has been
// shipped is never edited; testdata has a file of every version.
var steps = []string{version1}

// formatVersion is the user_version that this program writes.
var formatVersion = len(steps)

// upgrade brings the file from version from to the last step, in one
// transaction: after a crash the file is as it was.
func upgrade(db *sql.DB, from int, steps []string) error {
	tx, err := db.Begin()
	if err != nil {
		return reason(err)
	}
	defer tx.Rollback()

	// Another window may have been faster; the transaction has the lock now.
	if err := tx.QueryRow("PRAGMA user_version").Scan(&from); err != nil {
		return reason(err)
	}
	if from >= len(steps) {
		return nil
	}
	for n, step := range steps[from:] {
		if _, err := tx.Exec(step); err != nil {
			return fmt.Errorf("to version %d: %w", from+n+1, reason(err))
		}
	}
	// A pragma takes no bound values; both are numbers of ours.
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, len(steps))); err != nil {
		return reason(err)
	}
	return reason(tx.Commit())
}
