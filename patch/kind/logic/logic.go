// Package logic is the kind of module that joins gates by rules.
//
//	a, b -> and, or, xor, a latch, a toggle, a divider -> a gate
package logic

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "logic", Title: "logic", Family: patch.Modulators, Symbol: "logic", Version: 1,
	Help: `Makes one gate of two, by a rule. A gate is up while above 0.5.

    and     up while both a and b are
    or      up while one of them is, or both
    xor     up while exactly one of them is
    not     up while a is not; b is not heard
    latch   a rise of a sets it up, a rise of b down (both at once: down)
    toggle  every rise of a turns it over: from beats, half as many, each as
            long as its pause; a rise of b puts it down
    divide  lets the first of every so many gates of a through, whole, and
            none of the others; a rise of b makes the next one a first one

The inverse output is the opposite of out at all times: of and it is nand, of
or it is nor. The rules are Boolean algebra; latch and toggle are the
flip-flops of Eccles and Jordan.

Two dividers of 3 and 4 behind one clock and an or behind them make a rhythm
that comes round after 12 beats (the least common multiple).

Source: Shannon, A symbolic analysis of relay and switching circuits (1938);
Eccles and Jordan, The Radio Review 1 (1919).`,
	Inputs: []patch.Input{
		{Name: "a", Help: "The first gate. Left open it is down."},
		{Name: "b", Help: "The second gate; of latch, toggle and divide, what puts it back. Left open it is down."},
	},
	Outputs: []patch.Output{
		{Name: "out", Control: true, Help: "The gate that the rule gives, 0 or 1."},
		{Name: "inverse", Control: true, Help: "1 while out is 0, else 0."},
		{Name: "trigger", Control: true, Help: "1 for the one sample on which out rises, else 0."},
	},
	Controls: []patch.Control{
		control.Choice("rule", "What is made of the two gates: and, or, xor, not, latch, toggle or divide. A cord moves it by as many words; what latch, toggle and divide remember stays as it is.", "and", "or", "xor", "not", "latch", "toggle", "divide"),
		control.Count("count", "Of divide: one of how many gates passes, 1 (all) to 64. A cord moves it by as many. A change counts from the gate that passed last.", 1, 64, 2),
	},
}
