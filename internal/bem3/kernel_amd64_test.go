package bem3

import "testing"

// A whole problem by the kernel in Go, as on processors without AVX2.
func TestSolveWithoutAssembly(t *testing.T) {
	heavy(t)
	p, weights := drivenCabinet(0.3)
	measure := impedances(weights)
	want, _ := measure(mustSolve(t, p, 300, Options{}))
	defer func(fast bool) { fastKernel = fast }(fastKernel)
	fastKernel = false
	got, _ := measure(mustSolve(t, p, 300, Options{}))
	if e := relative(got, want); !(e < 1e-5) {
		t.Errorf("difference %.2g", e)
	}
}
