package field

// Arc returns the splay of n boxes that turn evenly by total rad from first to
// last. It is nil for a single box.
func Arc(n int, total float64) []float64 {
	return spread(n, total, func(int) float64 { return 1 })
}

// Progressive returns the splay of n boxes that turn by total rad from first to
// last, each joint by one step more than the joint above (a "J"): joint i gets
// total·i/(1+2+…+(n−1)).
func Progressive(n int, total float64) []float64 {
	return spread(n, total, func(i int) float64 { return float64(i + 1) })
}

// spread shares total among the n−1 joints by weight.
func spread(n int, total float64, weight func(i int) float64) []float64 {
	if n < 2 {
		return nil
	}
	out := make([]float64, n-1)
	sum := 0.0
	for i := range out {
		sum += weight(i)
	}
	for i := range out {
		out[i] = total * weight(i) / sum
	}
	return out
}
