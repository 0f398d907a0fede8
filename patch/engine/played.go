package engine

import "lampblack/patch/module"

// newPlayed returns room for n samples of a note.
func newPlayed(n int) module.Played {
	b := make([]float64, 6*n)
	cut := func(i int) []float64 { return b[i*n : (i+1)*n : (i+1)*n] }
	return module.Played{Pitch: cut(0), Gate: cut(1), Trigger: cut(2), Velocity: cut(3), Eased: cut(4), Before: cut(5)}
}

// cutPlayed returns samples i to j of a note.
func cutPlayed(p *module.Played, i, j int) module.Played {
	return module.Played{
		Pitch: p.Pitch[i:j], Gate: p.Gate[i:j], Trigger: p.Trigger[i:j],
		Velocity: p.Velocity[i:j], Eased: p.Eased[i:j], Before: p.Before[i:j],
	}
}

// copyPlayed copies n samples of a note, which stand at from in src, to at in dst.
func copyPlayed(dst *module.Played, at int, src *module.Played, from, n int) {
	copy(dst.Pitch[at:at+n], src.Pitch[from:])
	copy(dst.Gate[at:at+n], src.Gate[from:])
	copy(dst.Trigger[at:at+n], src.Trigger[from:])
	copy(dst.Velocity[at:at+n], src.Velocity[from:])
	copy(dst.Eased[at:at+n], src.Eased[from:])
	copy(dst.Before[at:at+n], src.Before[from:])
}

// samplePlayed sets dst, one sample long, to sample i of a note.
func samplePlayed(dst, src *module.Played, i int) {
	dst.Pitch[0] = src.Pitch[i]
	dst.Gate[0] = src.Gate[i]
	dst.Trigger[0] = src.Trigger[i]
	dst.Velocity[0] = src.Velocity[i]
	dst.Eased[0] = src.Eased[i]
	dst.Before[0] = src.Before[i]
}

// holdPlayed lets a note stay as it was at the last sample of its block.
func holdPlayed(p *module.Played, last int) {
	fill(p.Pitch, p.Pitch[last])
	fill(p.Gate, p.Gate[last])
	fill(p.Velocity, p.Velocity[last])
	fill(p.Eased, p.Eased[last])
	clear(p.Trigger)
}
