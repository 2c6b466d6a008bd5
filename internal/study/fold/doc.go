// Package fold works out one folded horn path: the wall where the design leaves it
// open, its rays and tolerances, and the line of mouths that it makes.
package fold
