package sound

// #cgo pkg-config: alsa
// #include <alsa/asoundlib.h>
//
// static void quiet(const char *file, int line, const char *function, int err, const char *fmt, ...) {}
// static void quiet_driver(void) { snd_lib_error_set_handler(quiet); }
import "C"

// quietDriver keeps the ALSA library from writing to standard error: what it
// has to say is told in the window, in a sentence.
func quietDriver() { C.quiet_driver() }
