package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Names are the themes that a person can choose; "" follows the desktop's
// light or dark setting.
var Names = []string{"", "soot", "paper"}

// TextSize is the size of body text in fyne's units, which the desktop's scale
// multiplies. Every other size is a part of it.
const TextSize = 15

// Theme returns the theme of that name for fyne's settings. A name that is not
// one of Names follows the desktop.
func Theme(name string) fyne.Theme { return &lampblack{name: name, size: TextSize} }

// ThemeWithText is Theme with another size of body text, 8 to 40.
func ThemeWithText(name string, size float32) fyne.Theme {
	return &lampblack{name: name, size: min(max(size, 8), 40)}
}

type lampblack struct {
	name string
	size float32
}

func (t *lampblack) ink(v fyne.ThemeVariant) *Ink {
	switch t.name {
	case "soot":
		return &Soot
	case "paper":
		return &Paper
	}
	return inkFor(v)
}

// Color gives fyne's own widgets (entries, buttons, menus, scroll bars) the
// colours of the palette. Nothing but the probes and modulation is coloured,
// so "primary", "success" and "warning" are ink.
func (t *lampblack) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	ink := t.ink(v)
	switch name {
	case theme.ColorNameBackground, theme.ColorNameMenuBackground,
		theme.ColorNameHeaderBackground, theme.ColorNameForegroundOnPrimary, theme.ColorNameForegroundOnError,
		theme.ColorNameForegroundOnSuccess, theme.ColorNameForegroundOnWarning:
		return ink.Ground
	case theme.ColorNameOverlayBackground:
		return ink.Wash // a sheet of its own: nothing else marks where it ends
	case theme.ColorNameButton, theme.ColorNameDisabledButton, theme.ColorNameInputBackground:
		return ink.Block
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled:
		return ink.Quiet
	case theme.ColorNameInputBorder, theme.ColorNameSeparator:
		return ink.Line
	case theme.ColorNameScrollBar:
		return ink.Line
	case theme.ColorNameScrollBarBackground:
		return ink.Faint
	case theme.ColorNameHover, theme.ColorNamePressed:
		return Fade(ink.Drawn, 0.07)
	case theme.ColorNameFocus, theme.ColorNameSelection:
		return Fade(ink.Drawn, 0.22)
	case theme.ColorNameShadow:
		return color.NRGBA{} // paper casts none, and what scrolls on is seen to be cut
	}
	return ink.Drawn
}

// Font returns the fonts of Lampblack; "monospace" means tabular figures.
func (t *lampblack) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Symbol:
		return theme.DefaultTheme().Font(s)
	case s.Monospace:
		return figuresFont
	case s.Bold:
		return semiboldFont
	case s.Italic:
		return italicFont
	}
	return textFont
}

// Icon returns fyne's icon: the program itself shows none.
func (t *lampblack) Icon(name fyne.ThemeIconName) fyne.Resource {
	return theme.DefaultTheme().Icon(name)
}

// Size returns fyne's sizes as parts of the text size, with hairlines and
// square corners.
func (t *lampblack) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameText:
		return t.size
	case theme.SizeNameCaptionText:
		return t.size * 0.85
	case theme.SizeNameSubHeadingText:
		return t.size * 1.1
	case theme.SizeNameHeadingText:
		return t.size * 1.35
	case theme.SizeNameSeparatorThickness, theme.SizeNameInputBorder:
		return 1
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius, theme.SizeNameScrollBarRadius:
		return 0
	case theme.SizeNameScrollBar:
		return t.size * 0.5
	case theme.SizeNameScrollBarSmall:
		return t.size * 0.2
	case theme.SizeNamePadding:
		return t.size * 0.25
	case theme.SizeNameInnerPadding, theme.SizeNameLineSpacing:
		return t.size * 0.4
	case theme.SizeNameInlineIcon:
		return t.size * 1.2
	}
	return theme.DefaultTheme().Size(name) * t.size / 14
}

// Em returns the size of body text now: the unit of every margin and column.
func Em() float32 {
	if fyne.CurrentApp() == nil {
		return TextSize
	}
	return theme.Size(theme.SizeNameText)
}
