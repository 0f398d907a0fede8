package predict

import (
	"fmt"
	"slices"
	"strings"
)

// order says of which sources a line is a sum or a difference: n times each. The
// zero value is no source at all.
type order [4]term

type term struct{ source, n int16 } // source: its number in walk.sources, from 1 on; 0: none

// many is the order of a line of more sources than have room.
var many = order{{-1, 1}}

func single(source, n int) order { return order{{int16(source), int16(n)}} }

// plus returns o + sign x p.
func (o order) plus(p order, sign int) order {
	if o == many || p == many {
		return many
	}
	var out order
	k := 0
	i, j := 0, 0
	for {
		for i < len(o) && o[i].source == 0 {
			i++
		}
		for j < len(p) && p[j].source == 0 {
			j++
		}
		var t term
		switch {
		case i >= len(o) && j >= len(p):
			return out
		case j >= len(p) || i < len(o) && o[i].source < p[j].source:
			t = o[i]
			i++
		case i >= len(o) || p[j].source < o[i].source:
			t = term{p[j].source, p[j].n * int16(sign)}
			j++
		default:
			t = term{o[i].source, o[i].n + p[j].n*int16(sign)}
			i++
			j++
		}
		if t.n == 0 {
			continue
		}
		if k == len(out) {
			return many
		}
		out[k] = t
		k++
	}
}

func (o order) negative() order {
	if o == many {
		return o
	}
	for i := range o {
		o[i].n = -o[i].n
	}
	return o
}

// only returns the one source of which o is a multiple, or 0.
func (o order) only() (source, n int) {
	if o[0].source > 0 && o[1].source == 0 {
		return int(o[0].source), int(o[0].n)
	}
	return 0, 0
}

// name writes o in words: "bronze + 2 x clapper".
func (w *walk) name(o order) string {
	if o == many {
		return "a sum of several"
	}
	var b strings.Builder
	if !slices.ContainsFunc(o[:], func(t term) bool { return t.n > 0 }) {
		o = o.negative() // a line below 0 Hz is the same one above
	}
	for _, positive := range []bool{true, false} { // what counts up comes first
		for _, t := range slices.Backward(o[:]) { // a carrier is numbered behind its modulators
			if t.source == 0 || t.n > 0 != positive {
				continue
			}
			n := int(t.n)
			switch {
			case n < 0:
				b.WriteString(" - ")
				n = -n
			case b.Len() > 0:
				b.WriteString(" + ")
			}
			if n > 1 {
				fmt.Fprintf(&b, "%d x ", n)
			}
			b.WriteString(w.sources[t.source-1].name)
		}
	}
	if b.Len() == 0 {
		return "steady"
	}
	return strings.TrimPrefix(b.String(), " ")
}
