package desk

import (
	"strconv"
	"strings"

	"lampblack/patch"
)

// ShownKind is Kind as it is shown: of one that grows (see patch.Kind.Grows) only
// the numbered inputs and controls up to one beyond the last in use, that is
// joined or set. It is nil if there is no such module.
func (s *Session) ShownKind(moduleName string) *patch.Kind {
	k := s.Kind(moduleName)
	if k == nil || k.Grows == 0 {
		return k
	}
	n := k.Grows
	inUse := func(name string) {
		if at := numberOf(name); at >= n {
			n = at + 1
		}
	}
	for _, c := range s.bench.Patch.Cords {
		if c.To.Module == moduleName {
			inUse(c.To.Name)
		}
	}
	for name := range s.bench.Patch.Module(moduleName).Settings {
		inUse(name)
	}
	return grownTo(k, n)
}

// grownTo returns k without the inputs and controls whose numbers are above n.
func grownTo(k *patch.Kind, n int) *patch.Kind {
	shown := *k
	shown.Inputs, shown.Controls = nil, nil
	for _, in := range k.Inputs {
		if numberOf(in.Name) <= n {
			shown.Inputs = append(shown.Inputs, in)
		}
	}
	for _, c := range k.Controls {
		if numberOf(c.Name) <= n {
			shown.Controls = append(shown.Controls, c)
		}
	}
	return &shown
}

// numberOf returns the number that a name ends in ("level 12"), 0 if none.
func numberOf(name string) int {
	n, err := strconv.Atoi(name[strings.LastIndex(name, " ")+1:])
	if err != nil || n < 0 {
		return 0
	}
	return n
}
