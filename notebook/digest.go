package notebook

import (
	"encoding/json"
	"fmt"
)

// digest returns the SHA-256 over everything that the page of a take says, so
// that a bit that turned over in the file is found. SQLite keeps no checksum of
// its pages.
func (t *Take) digest() string {
	kinds, _ := json.Marshal(t.Kinds) // a map of strings and numbers, by rising key: never an error
	return hashOf([]byte(list([]string{
		fmt.Sprint(t.Cue, t.Number, t.Kept.UnixMilli(), t.From), t.Origin, t.Note, list(t.Tags),
		string(t.PatchJSON), string(t.MemoryJSON),
		fmt.Sprint(t.Asked, t.Seconds, t.Rate, t.Channels, t.Peak), t.SHA256, string(kinds), t.Program,
	})))
}
