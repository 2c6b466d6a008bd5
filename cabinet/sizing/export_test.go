package sizing

import "gapline/cabinet/design"

// WooferMouths are the bare cones of a design.
func WooferMouths(d *design.Design) Mouths { return wooferRow(d).mouths() }

// InsertMouths are the mouths of its insert.
func InsertMouths(d *design.Design) Mouths { return insertRow(d).mouths() }

// MaxLobes is maxLobes.
const MaxLobes = maxLobes
