package instruments

// Enlarged returns the name of the instrument that has the place of the sheet,
// "" if none has.
func (t *Panel) Enlarged() string {
	if !t.large.Visible() {
		return ""
	}
	return t.large.now().Name()
}
