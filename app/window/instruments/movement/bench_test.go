package movement

import (
	"fmt"
	"strings"
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// page is the plate on a leaf of its own.
type page struct {
	*windowtest.Bench
	t      testing.TB
	plate  *Plate
	leaf   *leaf.Turning
	frozen bool
}

// open puts modules of kinds on a bench, and the page beside it.
func open(t testing.TB, theme string, modules ...string) *page {
	t.Helper()
	b := windowtest.New(t, theme)
	b.NewSound()
	g := &page{Bench: b, t: t}
	for _, kind := range modules {
		e, _ := desk.AddModule(kind, patch.Point{X: 10, Y: 10}, b.Patch())
		g.does(e)
	}
	g.leaf = leaf.NewTurning(func(p *leaf.Pen) {
		g.plate.Write(p, plate.Box{X: p.Em, Y: p.Em, Width: p.Width - 2*p.Em, Height: p.Height - 2*p.Em})
	})
	g.plate = New(b.Session, Options{
		Refresh: g.leaf.Refresh, Frozen: func() bool { return g.frozen }, Until: func(func()) {},
		Freeze: func() plate.Setting { return plate.Setting{Name: "signal"} },
	})
	return g
}

func (g *page) does(e desk.Edit) {
	g.t.Helper()
	if !g.Do(e) {
		g.t.Fatalf("%s was refused: %v", e.Name, g.Notices(desk.AtSheet))
	}
}

func (g *page) sets(module, control, value string) {
	g.t.Helper()
	v, err := patch.ParseSetting(value, g.Kind(module).Control(control))
	if err != nil {
		g.t.Fatal(err)
	}
	g.does(desk.SetControl(module, control, v))
}

func socket(s string) patch.Socket {
	module, name, _ := strings.Cut(s, "/")
	return patch.Socket{Module: module, Name: name}
}

// joins joins "module/output" to "module/control" by a depth.
func (g *page) joins(from, to, depth string) {
	g.t.Helper()
	d := patch.Setting{}
	if depth != "" {
		var err error
		if d, err = patch.ParseDepth(depth, g.Kind(socket(to).Module).Control(socket(to).Name)); err != nil {
			g.t.Fatal(err)
		}
	}
	g.does(desk.Join(socket(from), socket(to), d))
}

// sounds lets time pass at the speed of a screen.
func (g *page) sounds(seconds float64) {
	for range int(seconds*30 + 0.5) {
		g.Listen(1.0 / 30)
		g.plate.Beat()
	}
}

// opens shows the page for some seconds of sound, with the ranges begun when the
// settings have glided.
func (g *page) opens(seconds float64) {
	g.plate.Show(true)
	g.sounds(0.2)
	g.ClearMarks()
	g.sounds(seconds)
	g.plate.read()
}

func (g *page) row(module, control string) *row {
	g.t.Helper()
	for _, r := range g.plate.rows {
		if r.At == (patch.Socket{Module: module, Name: control}) {
			return r
		}
	}
	g.t.Fatalf("%s %s is not on the page", module, control)
	return nil
}

// says is what stands in a row.
func (r *row) says() string {
	return fmt.Sprintf("%s, %s, %s", r.value(r.least), r.value(r.most), r.rate.words(r.origin))
}

// many moves 40 controls.
func many(t testing.TB, theme string) *page {
	g := open(t, theme, "slow")
	for i := range 10 {
		e, name := desk.AddModule("filter", patch.Point{}, g.Patch())
		g.does(e)
		for _, c := range []string{"cutoff", "width", "peak", "boost"} {
			depth := "0.2 oct"
			if c == "peak" || c == "boost" {
				depth = fmt.Sprintf("%d dB", i+1)
			}
			g.joins("slow/out", name+"/"+c, depth)
		}
	}
	return g
}
