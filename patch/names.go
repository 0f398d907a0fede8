package patch

import (
	"slices"
	"strings"
)

// nearest returns the rest of a sentence about an unknown kind: the known names
// that are most like it, or all of them, if k can list them.
func nearest(name string, k Kinds) string {
	list, ok := k.(interface{ Names() []string })
	if !ok {
		return ""
	}
	names := list.Names()
	near := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return distance(name, n) > 1+len(n)/3 })
	slices.SortStableFunc(near, func(a, b string) int { return distance(name, a) - distance(name, b) })
	if len(near) > 0 {
		return "; did you mean " + enumerate(near) + "?"
	}
	return "; known are " + strings.Join(names, ", ")
}

// distance is the least number of letters put in, left out or changed that
// turns a into b, whatever their case.
//
// Source: Levenshtein, Soviet Physics Doklady 10(8), 1966.
func distance(a, b string) int {
	x, y := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	x = x[:min(len(x), 2*MaxName)]
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		corner := row[0]
		row[0] = i + 1
		for j, s := range y {
			change := corner
			if r != s {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, corner+1)
		}
	}
	return row[len(y)]
}

func controlNames(k *Kind) string {
	var names []string
	for _, c := range k.Controls {
		names = append(names, c.Name)
	}
	return some(names, "no controls")
}

func outputNames(k *Kind) string {
	var names []string
	for _, o := range k.Outputs {
		names = append(names, o.Name)
	}
	return some(names, "no outputs")
}

func endNames(k *Kind) string {
	var names []string
	for _, in := range k.Inputs {
		names = append(names, in.Name)
	}
	for _, c := range k.Controls {
		names = append(names, c.Name)
	}
	return some(names, "neither inputs nor controls")
}

func some(names []string, none string) string {
	if len(names) == 0 {
		return none
	}
	return strings.Join(names, ", ")
}
