package envelope

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// knocks are one sample long, at 0 and at 3000.
func knocks(n int) float64 {
	if n == 0 || n == 3000 {
		return 1
	}
	return 0
}

func retrigger(word string) *rig.Rig {
	return rig.New(Kind()).Set("attack", 0.01, "s").Set("decay", 0.02, "s").Set("sustain", 30, "%").Feed("trigger", knocks).Choose("retrigger", word)
}

// The note of the first 3000 samples again, sample for sample.
func TestFromZeroEveryNoteHasItsWholeAttack(t *testing.T) {
	y := retrigger("from zero").Out("out", 6000)
	for n := range 3000 {
		if y[3000+n] != y[n] {
			t.Fatalf("%d samples behind the second trigger it is at %g; behind the first %g", n, y[3000+n], y[n])
		}
	}
	if y[2999] < 0.3 || y[3000] != 0 {
		t.Errorf("at the trigger it goes from %g to %g; want a jump to 0", y[2999], y[3000])
	}
}

func TestNotWhileHeldATriggerChangesNothing(t *testing.T) {
	once := rig.New(Kind()).Set("attack", 0.01, "s").Set("decay", 0.02, "s").Set("sustain", 30, "%").Out("out", 6000)
	held := retrigger("not while held").Out("out", 6000)
	for n := range once {
		if held[n] != once[n] {
			t.Fatalf("sample %d is %g; without the second trigger %g", n, held[n], once[n])
		}
	}
	// A gate that starts again does start the attack, and so does a knock without one.
	again := retrigger("not while held").Feed("gate", func(n int) float64 { return float64(1 - n/2000%2) }).Out("out", 6000)
	if index(again[4000:4600], 1) < 0 {
		t.Error("a new gate does not start the attack")
	}
	knock := retrigger("not while held").Feed("gate", func(int) float64 { return 0 }).Out("out", 6000)
	if index(knock[3000:3600], 1) < 0 {
		t.Error("a trigger without a gate does not start the attack")
	}
}

// As it always was: the rise goes on from the level reached, on the same curve.
func TestFromWhereItStandsTheRiseIsContinuous(t *testing.T) {
	y := retrigger("from where it stands").Out("out", 6000)
	want := y[3000]
	if math.Abs(want-y[2999]) > 1e-3 {
		t.Fatalf("it jumps from %g to %g", y[2999], want)
	}
	for n := 3000; want < 1; n++ {
		if math.Abs(y[n]-want) > 1e-9 {
			t.Fatalf("sample %d is %.12f; the charging curve gives %.12f", n, y[n], want)
		}
		want += (aim - want) * -math.Expm1(-1.0/480)
	}
}
