package locale

import "testing"

// Order of precedence: POSIX.1-2017, Base Definitions, section 8.2.
func TestWordless(t *testing.T) {
	for _, c := range []struct {
		name string
		env  map[string]string
		want bool
	}{
		{"nothing set", nil, false},
		{"the C locale, which the toolkit knows", map[string]string{"LANG": "C"}, false},
		{"the C locale in UTF-8", map[string]string{"LANG": "C.UTF-8"}, true},
		{"a language", map[string]string{"LANG": "en_GB.UTF-8"}, false},
		{"LC_ALL stands above LANG", map[string]string{"LANG": "C.UTF-8", "LC_ALL": "fr_FR.UTF-8"}, false},
		{"LC_MESSAGES stands above LANG", map[string]string{"LANG": "fr_FR.UTF-8", "LC_MESSAGES": "C.UTF-8"}, true},
		{"a language whose name begins with C", map[string]string{"LANG": "Cs_CZ"}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := wordless(func(n string) string { return c.env[n] }); got != c.want {
				t.Errorf("wordless is %v, want %v", got, c.want)
			}
		})
	}
}
