package step

// Line delays a shape by Delay samples, so that corners can be mended before
// they are heard. The zero value is silent.
//
//	line.Reserve(n)
//	for each of n samples {
//		table.Jump(line.Window(), late, height) // for each corner since the last sample
//		y = line.Put(x)                         // x: the shape now; y: the shape Delay samples ago
//	}
//
// A corner can also be mended up to Late samples later, in Past(n): the first n of
// its points have been heard by then, but they are below -120 dB.
type Line struct {
	buf  [Late + Points + 8*64]float64 // what was heard last, the window, and room
	head int
}

// Late is the largest number of samples by which a corner can be mended late.
const Late = 1

// Reserve makes room for n samples, 1 to 64.
func (l *Line) Reserve(n int) {
	if l.head+n+Points+Late <= len(l.buf) {
		return
	}
	copy(l.buf[:Points+Late], l.buf[l.head:])
	clear(l.buf[Points+Late:])
	l.head = 0
}

// Window returns the samples around the one that Put is about to get.
func (l *Line) Window() *[Points]float64 {
	return (*[Points]float64)(l.buf[l.head+Late:])
}

// Past returns the Window of n samples ago, 0 to Late.
func (l *Line) Past(n int) *[Points]float64 {
	return (*[Points]float64)(l.buf[l.head+Late-n:])
}

// Put takes the next sample of the plain shape and gives the mended one.
func (l *Line) Put(x float64) float64 {
	h := l.head
	l.buf[h+Late+Delay] += x
	l.head = h + 1
	return l.buf[h+Late]
}
