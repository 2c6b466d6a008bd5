package schema

import (
	"gapline/cabinet/design"
	"gapline/internal/optional"
)

// Cleared is the word that takes a key's value away on the command line.
const Cleared = "none"

// Clear takes a value out of the design, as if the file did not give the key. ok is false
// for the air, which always has one.
func (k *Key) Clear(d *design.Design) (ok bool) {
	switch {
	case k.air != nil:
		return false
	case k.Type == Count:
		*k.count(d) = 0
	case k.Type == List:
		*k.list(d) = nil
	case k.text != nil:
		k.text.set(d, "")
	default:
		*k.float(d) = optional.Float{}
	}
	return true
}
