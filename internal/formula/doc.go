// Package formula evaluates formulas as they stand on paper, so that what gapline explain
// prints of a figure is what a reader can work out again, line by line.
//
// A line gives one quantity:
//
//	S = b·h
//	l = t + 2·Δl; plate and both end corrections
//	k = n_c, else 1 where d_w is given, else n_w
//	e = Δ_i + Δ_o unless enclosure.kind is closed
//	f_lobe = m·c/p, at the least m = 1, 2, 3 … with L_m > L_t
//	f₃ = f, at the highest f with |G|² = 1/2
//
// Of several ways the first holds whose quantities are all known and whose condition is
// met. What stands behind a semicolon is said for people, and so is a line in brackets. A
// line may use what only a later one fixes, such as the f of a search. Everything is in SI
// units and may be complex; max and min take the greatest and the least of what is known.
package formula
