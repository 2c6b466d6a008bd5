// Package search finds the best points of the unit box under limits, for one to
// three goals at once. It knows nothing of designs: a problem is a plain
// function of the levers, each scaled to 0…1.
//
// Sample walks a scrambled Halton sequence (or every combination, when there
// are few enough) and keeps in an Archive what matters: the feasible points
// that no other beats in every goal, and, while nothing fits, how near each
// limit is to being met. Refine then improves on the archive with local
// searches that start from it (Nelder and Mead's simplex for continuous levers,
// steps to the neighbour for the others).
//
// Everything is deterministic: slices of the sample, made anywhere and merged in
// order, give the same archive as one run, to the last bit.
package search
