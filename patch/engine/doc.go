// Package engine runs a patch: it turns modules and cords into samples.
//
//	Patch -> Compile -> Graph -> Engine.Swap -> Engine.Block -> left, right
//	Patch + Memory -> Render -> Rendered (or Begin, Next, Next ... for long renders)
//
// Modules are ordered by their cords. A module outside any loop runs in blocks
// of up to 64 samples; the modules of a loop run together sample by sample, so
// that feedback is one sample late and never a block. Settings are smoothed,
// moved by the cords that end in them, and clamped to their range. The engine
// offers taps on any output; it never measures, and knows no screen and no
// sound device.
//
// Two sides use an Engine. The sound side is one goroutine that calls Block: it
// never allocates, locks, waits or reads a clock. The desk side is everything
// else; its methods may be called from any goroutine.
//
// Held by tests: the same bits at any block size, live or offline; events on
// their exact sample; loops exactly one sample late; no clicks; no allocation
// while sounding; finite and bounded output whatever the patch; cost that grows
// with the number of modules and no faster.
package engine
