// Package picture draws measured signals as pictures for a page or a file.
//
//	samples -> scope.Trace, scope.Spectrum -> panels on a page -> PNG, SVG or PDF
//
// What is drawn is what package scope measured, or numbers that the caller
// hands in. The left channel (or the only one) is vermilion and unbroken, the
// right one Prussian blue and dashed, what moves a control is ochre; a
// spectrogram is the ink of the page alone: all of it reads in black and white.
// Words and lines grow with the picture, so that it can be printed at any size.
// It knows no patch and no screen.
//
// Held by tests: lines stand at their frequency, time and level on the axes, to
// a pixel; SVG and PDF are whole, with their text as text and their fonts
// inside.
package picture
