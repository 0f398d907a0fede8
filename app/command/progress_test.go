package command

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

func TestABarShowsOnlyWhatTakesLong(t *testing.T) {
	var seen bytes.Buffer
	quick := &progress{w: &seen, what: "rendering", since: time.Now().Add(time.Hour)} // not yet patient for long
	quick.at(0.5)
	quick.end()
	if seen.Len() > 0 {
		t.Errorf("quick work shows %q", seen.String())
	}
	long := &progress{w: &seen, what: "rendering", since: time.Now().Add(-2 * patience)}
	long.at(0.25)
	if got := seen.String(); !strings.Contains(got, "rendering") || !strings.Contains(got, "25%") {
		t.Errorf("long work shows %q, want its name and 25%%", got)
	}
	long.end()
}

func TestNoBarWithoutATerminal(t *testing.T) {
	var told bytes.Buffer
	s := &session{err: &told}
	p := s.progress("rendering")
	p.since = p.since.Add(-2 * patience)
	p.at(0.5)
	p.end()
	if told.Len() > 0 {
		t.Errorf("a pipe gets %q", told.String())
	}
}

func TestPartsMakeTheWhole(t *testing.T) {
	var seen bytes.Buffer
	p := &progress{w: &seen, what: "proving", since: time.Now().Add(-2 * patience)}
	p.part(0.5, 1)(0.5)
	if !strings.Contains(seen.String(), "75%") {
		t.Errorf("half of the second half shows %q, want 75%%", seen.String())
	}
}
