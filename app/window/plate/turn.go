package plate

// Turn returns what comes n after now among count, round and round.
func Turn(now, n, count int) int { return ((now+n)%count + count) % count }

// Along returns what comes n after v in a list that rises; it ends at both ends.
func Along(list []float64, v float64, n int) float64 {
	at := 0
	for i, x := range list {
		if x <= v {
			at = i
		}
	}
	return list[min(max(at+n, 0), len(list)-1)]
}
