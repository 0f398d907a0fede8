package ruler

import (
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/patch"
)

// table shows the table of a new module of a kind.
func table(t *testing.T, theme, kind string, width, height float32) (*desk.Session, *Table, test.WindowlessCanvas) {
	t.Helper()
	s := bench(t, theme)
	e, name := desk.AddModule(kind, patch.Point{}, s.Patch())
	if !s.Do(e) {
		t.Fatal(s.Notices(desk.AtSheet))
	}
	s.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
	p := NewRulers(s)
	c := show1(t, p, width, height)
	if p.table == nil {
		t.Fatalf("%s has no table", kind)
	}
	return s, p.table, c
}

// pull presses at the first of some places, goes over the others and lets go.
func (t *Table) pull(places ...fyne.Position) {
	for i, at := range places {
		if i == 0 {
			ev := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
			ev.Position = at
			t.MouseDown(ev)
			continue
		}
		ev := &fyne.DragEvent{}
		ev.Position = at
		t.Dragged(ev)
	}
	ev := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	ev.Position = places[len(places)-1]
	t.MouseUp(ev)
	t.DragEnd()
}

func (t *Table) twice(at fyne.Position) { t.pull(at); t.pull(at) }

// point is where a row stands, with its upright column at a value.
func (t *Table) point(row int, v float64) fyne.Position {
	return fyne.NewPos(t.plot.x(row), t.plot.y(v))
}

func (t *Table) typed(names ...fyne.KeyName) {
	for _, name := range names {
		t.TypedKey(&fyne.KeyEvent{Name: name})
		t.KeyUp(&fyne.KeyEvent{Name: name})
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s is %g, want %g", what, got, want)
	}
}

func TestTablesLookAsTheyShould(t *testing.T) {
	for _, theme := range []string{"soot", "paper"} {
		for _, kind := range []string{"partials", "contour", "quantiser"} {
			t.Run(kind+" "+theme, func(t *testing.T) {
				s, tab, c := table(t, theme, kind, 720, 200)
				s.Do(desk.SetControl(s.Chosen(), "loop from", patch.Setting{Value: 2}))
				s.Do(desk.SetControl(s.Chosen(), "loop to", patch.Setting{Value: 2}))
				c.Focus(tab)
				tab.typed(fyne.KeyRight)
				golden.Check(t, "table-"+kind+"-"+theme+".png", c)
			})
		}
	}
	t.Run("large", func(t *testing.T) {
		s, tab, c := table(t, "paper", "contour", 720, 300)
		test.ApplyTheme(t, look.ThemeWithText("paper", 22))
		s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
		s.Select(desk.Selection{Modules: []string{"contour"}, Cord: -1, Note: -1})
		_ = tab
		golden.Check(t, "table-contour-large.png", c)
	})
}

func TestOneStrokeDrawsManyBars(t *testing.T) {
	s, tab, _ := table(t, "soot", "partials", 720, 220)
	before := copied(tab.Rows())
	tab.pull(tab.point(2, -12), tab.point(9, -48))
	rows := s.Patch().Module("partials").Rows
	for i := 2; i <= 9; i++ {
		near(t, "the level of a bar on the line of the stroke", rows[i][1], -12-36*float64(i-2)/7, 1)
		near(t, "its ratio", rows[i][0], float64(i+1), 0)
	}
	near(t, "a bar beside the stroke", rows[10][1], before[10][1], 0)
	if tab.Row() != 9 {
		t.Errorf("row %d is chosen, want the last one drawn", tab.Row())
	}
	s.Undo()
	if rows := s.Patch().Module("partials").Rows; rows != nil {
		t.Errorf("one step of undo leads to %v", rows)
	}
}

func TestAStrokeIsHeardTwentyTimesASecondAndItsEndLands(t *testing.T) {
	s, tab, _ := table(t, "soot", "partials", 720, 220)
	clock := time.Unix(0, 0)
	tab.now = func() time.Time { return clock }
	edits := 0
	defer s.Watch(desk.Patch, func() { edits++ })()
	places := []fyne.Position{tab.point(0, -10)}
	ev := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	ev.Position = places[0]
	clock = clock.Add(time.Second)
	tab.MouseDown(ev)
	for i := range 200 { // a second of the mouse, every 5 ms
		clock = clock.Add(5 * time.Millisecond)
		d := &fyne.DragEvent{}
		d.Position = tab.point(0, -10-float64(i)/5)
		tab.Dragged(d)
		if i%7 == 0 {
			look.Live.Beat()
		}
	}
	if edits < 15 || edits > 22 {
		t.Errorf("%d edits in a second, want 15 to 22", edits)
	}
	near(t, "what is seen at once", tab.Rows()[0][1], -49.8, 1)
	tab.MouseUp(ev)
	near(t, "what is heard in the end", s.Patch().Module("partials").Rows[0][1], -49.8, 1)
}

func TestPointsOfACurveAreDragged(t *testing.T) {
	s, tab, _ := table(t, "soot", "contour", 720, 260)
	end := tab.plot.timeOf(2)
	at := tab.point(1, 60)
	tab.pull(at, fyne.NewPos(tab.plot.xAt(0.5), tab.plot.y(20)))
	rows := s.Patch().Module("contour").Rows
	near(t, "the time of its segment", rows[1][0], 0.48, 0.01)
	near(t, "its level", rows[1][1], 20, 2)
	near(t, "the end of the contour", rows[0][0]+rows[1][0]+rows[2][0], end, 0.005)
	tab.pull(tab.point(1, rows[1][1]), fyne.NewPos(tab.plot.x1+500, tab.plot.y(20)))
	rows = s.Patch().Module("contour").Rows
	if rows[2][0] < 0 || math.Abs(rows[0][0]+rows[1][0]+rows[2][0]-end) > 0.005 {
		t.Errorf("dragged beyond the next point it is %v", rows)
	}
	s.Undo()
	s.Undo()
	if s.Patch().Module("contour").Rows != nil {
		t.Error("two strokes are not two steps of undo")
	}
}

func TestASegmentIsBent(t *testing.T) {
	s, tab, _ := table(t, "soot", "contour", 720, 260)
	middle := tab.plot.timeOf(1) + 0.4
	level := 60 + (0-60)*bent(3, 0.5)
	at := fyne.NewPos(tab.plot.xAt(middle), tab.plot.y(level))
	tab.pull(at, at.AddXY(0, -tab.plot.height()/10))
	if c := s.Patch().Module("contour").Rows[2][2]; c >= 3 || c < -1 {
		t.Errorf("a falling line that is pulled up has the curve %g, want less than 3", c)
	}
}

func TestADoubleClickAddsAPointThatChangesNothing(t *testing.T) {
	s, tab, _ := table(t, "soot", "contour", 720, 260)
	const at = 0.02 + 0.25 + 0.4
	level := 60 + (0-60)*bent(3, 0.5)
	tab.twice(fyne.NewPos(tab.plot.xAt(at), tab.plot.y(level)))
	rows := s.Patch().Module("contour").Rows
	if len(rows) != 4 {
		t.Fatalf("there are %d rows", len(rows))
	}
	near(t, "its time", rows[2][0], 0.4, 0.01)
	near(t, "its level", rows[2][1], level, 2)
	near(t, "the time after it", rows[2][0]+rows[3][0], 0.8, 0.005)
	// Halves of an exponential bend half as much each.
	near(t, "the bend before it", rows[2][2], 1.5, 0.05)
	near(t, "the bend behind it", rows[3][2], 1.5, 0.05)
	tab.typed(fyne.KeyDelete)
	if rows := s.Patch().Module("contour").Rows; len(rows) != 3 || math.Abs(rows[2][0]-0.8) > 0.005 {
		t.Errorf("after Delete the rows are %v", rows)
	}
}

func TestTheKeysOfATable(t *testing.T) {
	across := func(tab *Table, k fyne.KeyName) {
		tab.TypedShortcut(&desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierShortcutDefault})
	}
	for _, c := range []struct {
		name, kind  string
		do          func(tab *Table)
		row, column int
		want        float64
	}{
		{"Up is a hundredth of the scale", "contour", func(tab *Table) { tab.typed(fyne.KeyRight, fyne.KeyUp) }, 1, 1, 62},
		{"Page Down is a tenth", "contour", func(tab *Table) { tab.typed(fyne.KeyEnd, fyne.KeyPageDown) }, 2, 1, -20},
		{"Control and Right lengthen a segment", "contour", func(tab *Table) { tab.typed(fyne.KeyEnd); across(tab, fyne.KeyRight) }, 2, 0, 0.808},
		{"Control and Down bend it", "contour", func(tab *Table) { tab.typed(fyne.KeyEnd); across(tab, fyne.KeyDown) }, 2, 2, 2.8},
		{"an interval moves by cents", "quantiser", func(tab *Table) { tab.typed(fyne.KeyRight, fyne.KeyUp) }, 1, 0, 101. / 1200},
		{"a number is typed with its unit", "contour", func(tab *Table) {
			tab.Type(0, "20 ms")
			tab.take()
		}, 0, 0, 0.02},
		{"a bare number is in the unit that is seen", "quantiser", func(tab *Table) {
			tab.typed(fyne.KeyRight)
			tab.TypedRune('7')
			tab.field.SetText("701.955")
			tab.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		}, 1, 0, 701.955 / 1200},
		{"Insert adds the next harmonic", "partials", func(tab *Table) { tab.typed(fyne.KeyEnd, fyne.KeyInsert) }, 16, 0, 17},
		{"Delete takes a row away", "partials", func(tab *Table) { tab.typed(fyne.KeyDelete) }, 0, 0, 2},
		{"the sign on the page adds one too", "quantiser", func(tab *Table) { tab.Click("more") }, 1, 0, 50. / 1200},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, tab, canvas := table(t, "soot", c.kind, 720, 220)
			canvas.Focus(tab)
			c.do(tab)
			if got := tab.Rows()[c.row][c.column]; math.Abs(got-c.want) > 1e-9 {
				t.Errorf("it is %g, want %g (%s)", got, c.want, tab.Message())
			}
			if s.UndoName() == "" {
				t.Error("there is nothing to undo")
			}
		})
	}
}

func TestWhatATableCanNotTakeIsSaid(t *testing.T) {
	s, tab, c := table(t, "soot", "quantiser", 720, 220)
	c.Focus(tab)
	tab.Type(0, "1300 cents")
	tab.take()
	if !strings.Contains(tab.Message(), "1 oct") || s.Patch().Module("quantiser").Rows != nil {
		t.Errorf("1300 cents: %q, %v", tab.Message(), s.Patch().Module("quantiser").Rows)
	}
	tab.drop()
	for range 12 {
		tab.typed(fyne.KeyDelete)
	}
	if n := len(tab.Rows()); n != 1 || !strings.Contains(tab.Message(), "1 to 48") {
		t.Errorf("%d rows are left, it says %q", n, tab.Message())
	}
	tab.Click("reset")
	if s.Patch().Module("quantiser").Rows != nil {
		t.Error("the rows are not as at first")
	}
}

func TestPointsOnALine(t *testing.T) {
	s, tab, _ := table(t, "soot", "quantiser", 720, 220)
	y := tab.plot.y0 + tab.plot.height()/2
	tab.pull(fyne.NewPos(tab.plot.x(3), y), fyne.NewPos(tab.plot.x(3)+(tab.plot.x(4)-tab.plot.x(3))/4, y))
	near(t, "a quarter of the way to the next", tab.Rows()[3][0]*1200, 325, 3)
	tab.twice(fyne.NewPos((tab.plot.x(6)+tab.plot.x(7))/2, y))
	if rows := s.Patch().Module("quantiser").Rows; len(rows) != 13 || math.Abs(rows[12][0]*1200-650) > 2 {
		t.Errorf("after a double click the rows are %v", rows)
	}
	tab.typed(fyne.KeyRight)
	near(t, "the next to the right", tab.Rows()[tab.Row()][0]*1200, 700, 0.001)
}
