// Package look is how Lampblack looks: soot and paper.
//
//	Ink (colours), Style (fonts and sizes) -> Theme -> texts, rules, symbols, traces
//
// Colour has a meaning: vermilion is probe A, Prussian blue probe B, ochre
// modulation; all else is the colour of the drawing ink and its shades. Every
// size follows the text size, so that a desktop's larger text enlarges all.
// It knows no patch and no session.
//
// Held by tests: contrast as WCAG 2.1 counts it, a font that has every
// character shown, golden pictures of symbols and styles in both themes.
package look
