package notebook

import "testing"

func TestWorkSetAsideStaysUntilItIsDropped(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	d := Draft{Cue: cue.ID, Patch: dust(), Memory: twoNotes(), Note: "too dry", Tags: []string{"moth"}}
	if err := b.SaveDraft(Draft{Patch: dust(), Note: "on the bench"}); err != nil {
		t.Fatal(err)
	}
	first, err := b.SetAside(d)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := b.SetAside(d); err != nil || again != first {
		t.Errorf("the same work set aside twice is %d and %d, %v", first, again, err)
	}
	d.Note = "another"
	second, err := b.SetAside(d)
	if err != nil || second == first {
		t.Fatalf("other work got the number %d again, %v", second, err)
	}
	asides, err := b.Asides()
	if err != nil || len(asides) != 2 || asides[0].Note != "another" || asides[1].Note != "too dry" {
		t.Fatalf("set aside: %v, %v", asides, err)
	}
	if got := asides[1]; !got.Patch.Equal(dust()) || len(got.Memory.Notes) != len(twoNotes().Notes) || got.Cue != cue.ID {
		t.Errorf("came back as %+v", got)
	}
	if err := b.DropAside(first); err != nil {
		t.Fatal(err)
	}
	if err := b.DropDraft(); err != nil {
		t.Fatal(err)
	}
	if asides, _ := b.Asides(); len(asides) != 1 || asides[0].ID != second {
		t.Errorf("after dropping the first and the draft: %v", asides)
	}
}

func TestDroppingNoAsideLeavesTheWorkInProgress(t *testing.T) {
	b := openNew(t)
	if err := b.SaveDraft(Draft{Patch: dust(), Note: "on the bench"}); err != nil {
		t.Fatal(err)
	}
	if err := b.DropAside(1); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := b.Draft(); !ok || err != nil {
		t.Errorf("the work in progress is gone: %v", err)
	}
}
