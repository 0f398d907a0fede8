package ruler

// Find brings the ruler of a control into view and returns it, nil if it is not
// in the panel.
func (p *Rulers) Find(control string) *Ruler {
	for _, r := range p.rulers {
		if r.Name() == control {
			p.reveal(r)
			return r
		}
	}
	return nil
}
