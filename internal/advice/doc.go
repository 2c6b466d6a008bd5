// Package advice judges results against the design's targets, in words: findings,
// the single changes that would close a gap, and cautions.
package advice
