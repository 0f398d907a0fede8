package patch

import (
	"errors"
	"fmt"
	"strings"
)

// Fault is one thing that is wrong with a patch.
type Fault struct {
	Line    int    // of the file, or 0
	Module  string // the module's name, or ""
	Place   string // the control, input, output or cord, or ""
	Message string // what is wrong, and what is allowed
}

// Error returns the fault in one line: "line 12: reed / width: 0 Hz is out of
// range; allowed is 1 Hz to 2.00 kHz".
func (f *Fault) Error() string {
	var b strings.Builder
	if f.Line > 0 {
		fmt.Fprintf(&b, "line %d: ", f.Line)
	}
	switch {
	case strings.Contains(f.Place, " -> "):
		b.WriteString("cord " + f.Place + ": ") // it names its modules itself
	case f.Module != "" && f.Place != "":
		b.WriteString(f.Module + " / " + f.Place + ": ")
	case f.Module+f.Place != "":
		b.WriteString(f.Module + f.Place + ": ")
	}
	b.WriteString(f.Message)
	return b.String()
}

// Faults returns the faults that are joined in err, in their order. Other
// errors come as a Fault with a Message only.
func Faults(err error) []*Fault {
	if err == nil {
		return nil
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var faults []*Fault
		for _, e := range many.Unwrap() {
			faults = append(faults, Faults(e)...)
		}
		return faults
	}
	if f := (*Fault)(nil); errors.As(err, &f) {
		return []*Fault{f}
	}
	return []*Fault{{Message: err.Error()}}
}

// faults collects what is wrong.
type faults []error

func (f *faults) add(module, place, format string, args ...any) {
	*f = append(*f, &Fault{Module: module, Place: place, Message: fmt.Sprintf(format, args...)})
}

func (f faults) err() error { return errors.Join(f...) }
