package keys

// Section is a part of the page of keys.
type Section struct {
	Title string
	Lines []Line
}

// Line says what a key does. Keys is empty for a line that only explains.
type Line struct{ Keys, Does string }

// Sections lists every key of the window.
func Sections() []Section {
	return []Section{
		{"the first minute", []Line{
			{"1", "Choose a take in the contents; Enter puts it on the bench."},
			{"2", "Space plays its memory. Drag a ruler and listen."},
			{"3", "Click an output: probe A measures there."},
			{"4", "Play the keys A to L, or the band of pitches under the memory."},
			{"5", "Write in the note what you did and why, and keep the take."},
		}},
		{"playing", []Line{
			{"A S D F …", "the A string: A4 (440 Hz) and on, a semitone a key"},
			{"Z   Q   1", "the E, D and G strings: the rows below and above, a fourth apart"},
			{"[   ]", "strings an octave down, up"},
			{"Space", "play the memory, stop"},
			{"Ctrl+E", "stop at the end of the pass"},
			{"Ctrl+L", "repeat"},
			{"Ctrl+R", "record; the first note begins, record again ends"},
			{"F12", "silence everything at once"},
		}},
		{"the bench", []Line{
			{"Ctrl+Z", "undo"},
			{"Ctrl+Shift+Z", "redo (also Ctrl+Y)"},
			{"Ctrl+K", "keep as a take (also Ctrl+S)"},
			{"Ctrl+N", "a new sound; work not kept is set aside"},
			{"Ctrl+O", "bring in a file, or drop it on the window"},
			{"F6", "from part to part of the page; Shift goes back"},
			{"Tab", "the next thing that takes keys"},
			{"← → ↑ ↓", "go, or turn what the keyboard is at"},
			{"Enter", "press it"},
		}},
		{"sheet", []Line{
			{"← → ↑ ↓", "go from module to module; with Ctrl move them"},
			{"Insert", "add a module; Tab: the next family"},
			{"F2", "rename it"},
			{"Ctrl+J", "join one of its outputs"},
			{"Delete", "remove what is chosen"},
			{"PgUp PgDn", "go through its cords"},
			{"Ctrl+1 2", "move probe A, B to its next output"},
			{"Ctrl+ + − 0", "nearer, farther, the whole patch"},
			{"Ctrl+A", "choose all"},
		}},
		{"rulers", []Line{
			{"← →", "a hundredth of the ruler; Shift: finer"},
			{"PgUp PgDn", "a tenth; with Ctrl on to other rulers"},
			{"0 … 9", "type a value, unit and all: 2.1k, Q 20"},
			{"Home", "its default; Shift+Enter: what moves it"},
			{"Ins Del", "of drawn rows: one more, one less"},
			{"Ctrl ← → ↑ ↓", "their time or ratio, their bend"},
		}},
		{"lessons", []Line{
			{"F10", "open them, come back to them, close them"},
			{"PgDn PgUp", "the next step, the one before"},
			{"Escape", "all lessons; the contents again"},
		}},
		{"contents", []Line{
			{"↑ ↓", "choose a line"},
			{"Enter", "recall the take; write a cue anew; add"},
			{"F5", "file the work under the chosen cue"},
			{"F7", "hear the take's own audition beside the bench"},
			{"F8", "prove that the take still sounds the same"},
			{"F9", "star, unstar"},
			{"Ctrl+P", "draw the take on one page: PNG, SVG or PDF"},
			{"Ctrl+F", "find; Escape shows the contents again"},
		}},
		{"memory", []Line{
			{"← →", "go from note to note"},
			{"↑ ↓", "a semitone up, down"},
			{"Shift ← →", "earlier, later"},
			{"Shift ↑ ↓", "longer, shorter"},
			{"Delete", "erase: a rest stays in its place"},
			{"Enter", "on a rest: the next note you play goes there"},
		}},
		{"page", []Line{
			{"Ctrl+T", "soot, paper"},
			{"F3", "large instruments in turn, then the sheet; Shift goes back"},
			{"F4", "freeze the instruments, let them go on"},
			{"F1", "this page; Escape closes it"},
			{"F11", "fill the screen"},
			{"Ctrl+Q", "quit; work that was not kept is there next time"},
		}},
	}
}

// Cautions are what must be read before the first sound.
func Cautions() []string {
	return []string{
		"Hearing: sound from a synthesis patch can be far louder than speech and begin without warning. The listening level starts low; raise it step by step, in headphones above all, and take breaks. The limiter protects the loudspeaker's range, not your ears. Follow your local rules for exposure to sound at work.",
		"Flicker: traces move and flash. If that is not good for you, or for somebody who watches, freeze the instruments (F4) or stop the memory. Follow your local rules for photosensitive viewers where pictures are shown.",
		"Mains: this program measures numbers, not wires. Work on mains-powered equipment is for people who are qualified for it.",
	}
}
