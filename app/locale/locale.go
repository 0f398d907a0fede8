// Package locale tells the screen toolkit which language to speak where the
// system names none.
//
// In containers and on small machines the locale is often "C.UTF-8". The
// toolkit (fyne v2.7.1) reads it while the program is being loaded, takes "C"
// for a language and complains on standard error, in front of every command.
//
// Go loads packages in the order of their paths as soon as what they import is
// loaded, so this one must import nothing but os to come first; the test of
// the built program holds that.
package locale

import "os"

func init() {
	if wordless(os.Getenv) && os.Getenv("LANGUAGE") == "" {
		os.Setenv("LANGUAGE", "en") // LANG stays: the C library reads the character set from it
	}
}

// wordless says whether the locale in force is "C" with a character set.
func wordless(env func(string) string) bool {
	for _, name := range [...]string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if v := env(name); v != "" {
			return len(v) > 1 && v[:2] == "C."
		}
	}
	return false
}
