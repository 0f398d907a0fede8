// Package picture draws measured signals as pictures for a page or a file.
//
//	samples -> scope.Trace, scope.Spectrum -> plot -> PNG or SVG
//
// What is drawn is what package scope measured; the left channel (or the only
// one) is vermilion, the right one Prussian blue and dashed where both share a
// picture, so that it reads in black and white. It knows no patch and no screen.
//
// Held by tests: lines stand at their frequency and level on the axes, to a
// pixel.
package picture
