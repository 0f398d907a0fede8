package sound

import "time"

// clockBlock is how many samples the clock asks for at once: 5.33 ms at 48 kHz,
// as a device with little delay would.
const clockBlock = 256

// clock renders in step with the time of day, for the meters and the transport.
// Each block may begin when the one before it would begin to be heard, and is to
// be there when that one has been.
func (o *Output) clock() {
	raise() // the thread ends with this goroutine: nobody else gets it
	left, right := make([]float64, clockBlock), make([]float64, clockBlock)
	start, blocks := time.Now(), int64(0)
	for {
		select {
		case <-o.close:
			return
		default:
		}
		due := start.Add(o.lasting(blocks))
		sleep(time.Until(due))
		now := time.Now()
		switch late := now.Sub(due); {
		case late < 0:
			continue
		case late > time.Second: // the machine slept: go on from here
			start, blocks, due = now, 0, now
		}
		o.chain.Process(left, right)
		blocks++
		if o.options.Timings != nil {
			end := time.Now()
			o.options.Timings.Block(clockBlock, o.options.Rate, end.Sub(now), end.Sub(due), false)
		}
	}
}

// lasting returns how long so many blocks last.
func (o *Output) lasting(blocks int64) time.Duration {
	return time.Duration(blocks * clockBlock * int64(time.Second) / int64(o.options.Rate))
}
