// Package check says, in keys of the design file, why a design cannot exist and
// what it lacks for a box, a horn or a fold to be worked out.
package check
