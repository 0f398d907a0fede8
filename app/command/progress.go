package command

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// patience is how long work may take before a bar shows how far it is.
const patience = time.Second

// progress draws a bar on standard error once work has taken longer than
// patience, if a person is watching. It is used by one goroutine.
type progress struct {
	w     io.Writer
	what  string
	since time.Time
	bar   *progressbar.ProgressBar
}

// progress returns a bar for work of that name, which starts now.
func (s *session) progress(what string) *progress {
	p := &progress{w: s.err, what: what, since: time.Now()}
	if f, ok := s.err.(*os.File); !ok || !term.IsTerminal(int(f.Fd())) {
		p.w = nil
	}
	return p
}

// at says how much of the work is done, 0 to 1.
func (p *progress) at(done float64) {
	if p.w == nil || (p.bar == nil && time.Since(p.since) < patience) {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(1000,
			progressbar.OptionSetWriter(p.w),
			progressbar.OptionSetDescription(p.what),
			progressbar.OptionSetWidth(30),
			progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish(),
			progressbar.OptionSetPredictTime(false), // it would count from the bar's birth, not from the work's
			progressbar.OptionSetElapsedTime(false),
		)
	}
	_ = p.bar.Set(int(1000 * min(max(done, 0), 1))) // a bar that cannot be drawn spoils no work
}

// part returns a bar's function for the share from..to of the work.
func (p *progress) part(from, to float64) func(float64) {
	return func(done float64) { p.at(from + done*(to-from)) }
}

// end takes the bar away; a later at brings it back.
func (p *progress) end() {
	if p.bar != nil {
		_ = p.bar.Finish()
		p.bar = nil
	}
}
