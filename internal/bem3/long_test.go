//go:build long

package bem3

import "testing"

// Run with -tags long: meshes of thousands of unknowns.
func TestDrivenSelfConvergenceFine(t *testing.T) { selfConvergence(t, 1000, 4, 9) }

func TestPistonInVeryLargeBox(t *testing.T) { pistonInBox(t, 1, 0.03, 1, 2, 3) }

func TestTwoPistonsInVeryLargeBox(t *testing.T) { pistonsInBox(t, 1, 0.01, 1, 2) }
