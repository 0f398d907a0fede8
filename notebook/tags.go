package notebook

import (
	"encoding/json"
	"slices"
	"strings"
)

// tidy returns the tags without surrounding space, empty ones and repetitions,
// in their order.
func tidy(tags []string) []string {
	var kept []string
	for _, tag := range tags {
		tag = strings.TrimSpace(strings.ToValidUTF8(tag, "\uFFFD"))
		if tag != "" && !slices.Contains(kept, tag) {
			kept = append(kept, tag)
		}
	}
	return kept
}

// list writes strings as a JSON list; none as [].
func list(all []string) string {
	if len(all) == 0 {
		return "[]"
	}
	text, err := json.Marshal(all)
	if err != nil {
		panic("notebook: a list of strings that JSON can't write: " + err.Error())
	}
	return string(text)
}

// unlist reads what list wrote.
func unlist(text string) ([]string, error) {
	var all []string
	err := json.Unmarshal([]byte(text), &all)
	if len(all) == 0 {
		all = nil
	}
	return all, err
}
