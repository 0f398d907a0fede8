package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/look"
)

func TestTheBandSoundsWhileItIsPressed(t *testing.T) {
	_, w := sit(t, "soot", 1440, 900)
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	at.Position = fyne.NewPos(700-w.strip.Position().X, 868-w.strip.Position().Y)
	w.strip.MouseDown(at)
	look.Live.Beat()
	if w.hands.Held() != 1 {
		t.Fatalf("%d notes are held while the band is pressed; places %v", w.hands.Held(), w.strip.Names())
	}
	w.strip.MouseUp(at)
	if w.hands.Held() != 0 {
		t.Error("a note hangs after the band was let go")
	}
}
