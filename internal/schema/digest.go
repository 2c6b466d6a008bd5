package schema

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"gapline/cabinet/design"
	"gapline/internal/quantity"
)

// What measured traces depend on.
var (
	// StackTables are the tables on whose geometry a stack's coupling depends.
	StackTables = []string{"cabinet", "line", "woofer", "mid", "insert"}
	// EdgeTables are those on whose geometry the horn's pattern depends.
	EdgeTables = []string{"cabinet", "horn", "fold"}
)

// hung are the keys that say how a stack hangs, not what it is.
var hung = []string{"line.top_height", "line.tilt"}

// Digest names the state of the geometry in some tables: sixteen digits made of the values
// of all keys there that are lengths, areas, volumes, angles, numbers of parts or choices. Two
// designs with the same values have the same digest, in whatever units they were written.
func Digest(d *design.Design, tables []string) string {
	h := sha256.New()
	for i := range Keys {
		k := &Keys[i]
		if !slices.Contains(tables, k.Table()) || !k.geometric() || slices.Contains(hung, k.Path) {
			continue
		}
		v := k.ValueIn(d)
		fmt.Fprintf(h, "%s=%.12g %q %.12g\n", k.Path, v.Number, v.Text, v.List)
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// geometric reports whether the key says what is where.
func (k *Key) geometric() bool {
	switch k.Type {
	case Count, Choice:
		return true
	case Text:
		return false
	}
	return slices.Contains([]quantity.Kind{quantity.Length, quantity.Area, quantity.Volume, quantity.Angle}, k.Kind)
}
