package window

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/window/keys"
)

// reached is a part of the page that is written on a leaf.
type reached interface {
	fyne.CanvasObject
	ByKey() []string
	ByMouse() []string
	At() string
	TypedKey(*fyne.KeyEvent)
	FocusGained()
}

// otherwise are the keys for what arrow keys pass over: the beginning of a place's
// name, and the key as the page of keys tells it.
var otherwise = map[string]string{
	"job ": "↑ ↓", "cue ": "↑ ↓", "take ": "↑ ↓", "aside ": "↑ ↓", "add ": "Enter", "new sound": "Ctrl+N", "page": "↑ ↓",
	"recall": "Enter", "hear": "F7", "stop": "F7", "prove": "F8", "star": "F9", "unstar": "F9", "draw": "Ctrl+P",
	"edit": "Enter", "file here": "F5", "take up": "Enter", "note ": "← →", "strip": "← →", "band": "A S D F",
	"level mark": "← → ↑ ↓", // beside it stands the level, as a word
	"keys":       "F1", "lessons": "F10", "theme": "Ctrl+T",
	"large scope": "F3", "large spectrum": "F3", "scope": "F3", "spectrum": "F3",
}

// byMouse are those that only the mouse works, and why nobody is shut out.
var byMouse = map[string]string{
	"hint": "it puts away a hint, which hides nothing; arrow keys go from note to note there",
}

// Whatever on the page can be clicked, scrolled or dragged can be done from the
// keyboard: arrow keys come to it, or the page of keys tells the key for it.
func TestTheKeyboardReachesThePage(t *testing.T) {
	_, w := sit(t, "soot", 1440, 900)
	known := map[string]bool{}
	for _, s := range keys.Sections() {
		for _, l := range s.Lines {
			known[l.Keys] = true
		}
	}
	seen := 0
	for _, part := range leaves(w.page) {
		for range 2 { // the second time with a row chosen
			byKey := part.ByKey()
			part.FocusGained()
			at := map[string]bool{}
			for _, name := range []fyne.KeyName{fyne.KeyRight, fyne.KeyLeft} {
				for range len(byKey) + 2 {
					part.TypedKey(&fyne.KeyEvent{Name: name})
					at[part.At()] = true
				}
			}
			for _, name := range byKey {
				if seen++; !at[name] && !has(known, name) {
					t.Errorf("%T: arrow keys do not come to %q", part, name)
				}
			}
			for _, name := range part.ByMouse() {
				if seen++; !has(known, name) {
					t.Errorf("%T: there is no key for %q", part, name)
				}
			}
			part.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
		}
	}
	if seen < 60 {
		t.Errorf("only %d places were looked at", seen)
	}
}

// has tells whether the page of keys has a key for a place.
func has(known map[string]bool, place string) bool {
	if byMouse[place] != "" {
		return true
	}
	for begins, key := range otherwise {
		if strings.HasPrefix(place, begins) {
			return slices.ContainsFunc(keysOf(known), func(k string) bool { return strings.Contains(k, key) })
		}
	}
	return false
}

func keysOf(known map[string]bool) (all []string) {
	for k := range known {
		all = append(all, k)
	}
	return all
}

// leaves returns the leaves that are seen, with those inside of others.
func leaves(o fyne.CanvasObject) (all []reached) {
	if !o.Visible() {
		return nil
	}
	if l, ok := o.(reached); ok {
		all = append(all, l)
	}
	switch o := o.(type) {
	case *fyne.Container:
		for _, inside := range o.Objects {
			all = append(all, leaves(inside)...)
		}
	case fyne.Widget:
		for _, inside := range test.WidgetRenderer(o).Objects() {
			all = append(all, leaves(inside)...)
		}
	}
	return all
}
