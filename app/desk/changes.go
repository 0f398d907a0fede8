package desk

import (
	"fmt"
	"slices"
	"strings"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// ChangeLine is one change since the parent take, as the note column shows it.
type ChangeLine struct{ What, Before, After string }

// changeLine writes one change with what it is about on the left and the values
// on the right.
func changeLine(c patch.Change) ChangeLine {
	switch c.What {
	case patch.SettingChanged:
		return ChangeLine{c.Module + " " + c.Place, c.Before, c.After}
	case patch.ModuleAdded:
		return ChangeLine{c.Module, "", "added"}
	case patch.ModuleRemoved:
		return ChangeLine{c.Module, "", "removed"}
	case patch.ModuleRenamed:
		return ChangeLine{"name", c.Before, c.After}
	case patch.KindChanged:
		return ChangeLine{c.Module, c.Before, c.After}
	case patch.RowsChanged:
		return ChangeLine{c.Module + " " + c.Place, c.Before, c.After}
	case patch.RecordingChanged:
		return ChangeLine{c.Module + " plays", c.Before, c.After}
	case patch.CordAdded:
		return ChangeLine{c.Place, "", strings.TrimSpace("joined " + c.After)}
	case patch.CordRemoved:
		return ChangeLine{c.Place, "", "unjoined"}
	case patch.DepthChanged:
		return ChangeLine{c.Place, c.Before, c.After}
	}
	return ChangeLine{"seed", c.Before, c.After}
}

// ChangeLines returns what has changed since the parent take.
func (s *Session) ChangeLines() []ChangeLine {
	if s.bench.From == 0 {
		return nil
	}
	var lines []ChangeLine
	for _, c := range patch.Compare(s.kept.Patch, s.bench.Patch, kind.Catalogue) {
		lines = append(lines, changeLine(c))
	}
	was, is := s.kept.Memory, s.bench.Memory
	if !slices.Equal(was.Notes, is.Notes) || was.Length != is.Length {
		lines = append(lines, ChangeLine{"memory", memoryLine(was), memoryLine(is)})
	}
	if was.Tempo() != is.Tempo() {
		lines = append(lines, ChangeLine{"speed", fmt.Sprintf("%g ×", was.Tempo()), fmt.Sprintf("%g ×", is.Tempo())})
	}
	if was.Repeat != is.Repeat {
		lines = append(lines, ChangeLine{"repeat", onOff(was.Repeat), onOff(is.Repeat)})
	}
	return lines
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

func memoryLine(m memory.Memory) string {
	notes := 0
	for _, n := range m.Notes {
		if !n.Rest {
			notes++
		}
	}
	return fmt.Sprintf("%d notes, %.1f s", notes, m.Length)
}
