// Package ruler shows a control as a slide rule shows a number.
//
//	name   |----printed scale--[index line]----|   written value
//
// The scale is divided in the control's own unit; an ochre band marks where
// modulation has driven the control, a thin line where it is now. A ruler is
// dragged, scrolled, typed into, moved by arrow keys, and put back to its
// default by a double click. Rulers is the panel of the chosen module or cord; the
// rows that a module has besides its controls are drawn over them, in Table.
// It draws from the session and keeps no value.
//
// Held by tests: labels never touch at any width, an index line stands where
// its value is written, what can't be read changes nothing, golden pictures.
package ruler
