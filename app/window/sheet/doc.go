// Package sheet draws the patch as a block diagram and lets it be changed.
//
//	patch -> layout (blocks, sockets, routes) -> what is in view -> lines, texts, live traces
//
// A module is an outlined block with its symbol, name and written values: audio
// inputs and controls at its left, outputs at its right. A cord is an
// orthogonal line that carries a short live trace of its own signal. Whatever
// the mouse does can be done by keyboard. The layout is plain geometry in sheet
// units (see patch.Point) and knows no toolkit; Sheet draws from the session
// and keeps nothing of the patch.
//
// Held by tests: cords go round blocks where there is a way, sockets are hit
// where they are drawn, edits by mouse and by keyboard are the same, golden
// pictures, a sheet of 1,000 modules draws what is in view.
package sheet
