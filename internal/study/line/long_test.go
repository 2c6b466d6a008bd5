//go:build long

package line

func init() { everyDesign = 1 }
