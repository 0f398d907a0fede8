package step

// Line delays a shape by Delay samples, so that corners can be mended before
// they are heard. The zero value is silent.
//
//	line.Reserve(n)
//	for each of n samples {
//		table.Jump(line.Window(), late, height) // for each corner since the last sample
//		y = line.Put(x)                         // x: the shape now; y: the shape Delay samples ago
//	}
type Line struct {
	buf  [Points + 8*64]float64
	head int
}

// Reserve makes room for n samples, 1 to 64.
func (l *Line) Reserve(n int) {
	if l.head+n+Points <= len(l.buf) {
		return
	}
	copy(l.buf[:Points], l.buf[l.head:])
	clear(l.buf[Points:])
	l.head = 0
}

// Window returns the samples around the one that Put is about to get.
func (l *Line) Window() *[Points]float64 {
	return (*[Points]float64)(l.buf[l.head:])
}

// Put takes the next sample of the plain shape and gives the mended one.
func (l *Line) Put(x float64) float64 {
	h := l.head
	l.buf[h+Delay] += x
	l.head = h + 1
	return l.buf[h]
}
