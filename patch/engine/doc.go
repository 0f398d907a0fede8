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
// Several notes sound in several voices. What a note changes (it is tuned, opened,
// shaped or started by it), and what lies before that and hears the note or draws
// noise, is there once for every voice. All else is there once: before the
// voices it is heard by all of them, behind them it hears their sum. A new note
// takes the voice that was let go the longest ago; if all keys are down, it takes
// one over. VoicesOf finds it out from the cords; keys deals out the notes.
//
// Two sides use an Engine. The sound side is one goroutine that calls Block: it
// never allocates, locks, waits or reads a clock. The desk side is everything
// else; its methods may be called from any goroutine.
//
// Held by tests: the same bits at any block size, live or offline, with any number
// of workers; events on their exact sample; a chord that is the sum of its notes;
// loops exactly one sample late; no clicks; no allocation while sounding; finite
// and bounded output whatever the patch; cost that grows with the number of
// modules and voices and no faster.
package engine
