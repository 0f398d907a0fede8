package sheet

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/patch"
)

// choir is a tone of four voices that goes into a filter which no note reaches,
// and an output.
func choir() patch.Patch {
	return patch.Patch{Name: "choir", Modules: []patch.Module{
		{Name: "keys", Kind: "memory", At: at(24, 24), Settings: map[string]patch.Setting{"voices": set(4, "", "")}},
		{Name: "tone", Kind: "oscillator", At: at(264, 24)},
		{Name: "shade", Kind: "filter", At: at(504, 24)},
		{Name: "out", Kind: "output", At: at(744, 24)},
	}, Cords: []patch.Cord{
		{From: out("keys", "pitch"), To: out("tone", "frequency"), Depth: set(1, "oct", "+1 oct")},
		{From: out("tone", "out"), To: out("shade", "in")},
		{From: out("shade", "low"), To: out("out", "left")},
	}}
}

func TestWhatSoundsOnceForEveryVoiceIsMarked(t *testing.T) {
	for _, theme := range []string{"soot", "paper"} {
		s := bench(t, theme, choir())
		sh, c := laid(t, s, 1000, 320)
		golden.Check(t, "voices-"+theme+".png", c)
		for name, want := range map[string]string{"tone": "4 times", "shade": "once, for all voices", "keys": "4 times"} {
			if text := sh.describe(hit{what: onBlock, socket: patch.Socket{Module: name}}); !strings.Contains(text, want) {
				t.Errorf("of %s the sheet says %q, want %q in it", name, text, want)
			}
		}
		if title := sh.layout.block("keys").title; title != "memory, 4 voices" {
			t.Errorf("the memory's title is %q", title)
		}
		s.Do(desk.SetControl("keys", "voices", patch.Setting{Value: 1}))
		if sh.perVoice("tone") || sh.once("tone") != "" {
			t.Error("with one voice a module is marked")
		}
	}
}

func TestAMarkOfALimitIsExplainedAndCleared(t *testing.T) {
	p := choir()
	p.Cords = append(p.Cords, patch.Cord{From: out("shade", "low"), To: out("shade", "in")}, patch.Cord{From: out("shade", "bell"), To: out("shade", "in")})
	for _, clear := range []string{"key", "click"} {
		s := bench(t, "soot", p)
		sh, _ := laid(t, s, 1000, 320)
		s.NoteOn(0, 1)
		hear(s, 60)
		if !s.Clamped("shade") {
			t.Fatal("a filter with a feedback of more than 1 did not limit itself")
		}
		s.Select(desk.Selection{Modules: []string{"shade"}, Cord: -1, Note: -1})
		if text := sh.about(); !strings.Contains(text, "limited or reset itself") || !strings.Contains(text, "Backspace") {
			t.Errorf("the sheet says %q", text)
		}
		if clear == "key" {
			ctrl(sh, fyne.KeyBackspace)
		} else {
			m := &mouse{t: t, sh: sh}
			b := sh.layout.block("shade")
			m.click(at(b.box.X0+nameX+10, b.box.Y0+33), 0)
		}
		if s.Clamped("shade") || sh.drawn.limited["shade"] {
			t.Errorf("by %s the mark is not cleared", clear)
		}
	}
}
