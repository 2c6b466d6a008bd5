package figure

// flat names the front without a bulge.
func flat(si float64) string {
	if si == 0 {
		return "flat"
	}
	return ""
}

// cancelled is the level in dB at or below which a lobe counts as none: where the
// mouths cancel exactly, the sum leaves the rounding of the arithmetic.
const cancelled = -100

// noLobe names the lobe that the mouths of a box cancel.
func noLobe(si float64) string {
	if si <= cancelled {
		return "no lobe"
	}
	return ""
}

// null is a dip that is held at 60 dB.
func null(si float64) string {
	if si > 59.9 {
		return "null"
	}
	return ""
}
