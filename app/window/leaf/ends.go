package leaf

// Ends collects what ends the watching of a view. Embed it in the view.
type Ends struct{ stops []func() }

// Until adds what ends one watching.
func (e *Ends) Until(stop func()) { e.stops = append(e.stops, stop) }

// Stop ends all watching: the view is not shown any more.
func (e *Ends) Stop() {
	for _, stop := range e.stops {
		stop()
	}
	e.stops = nil
}
