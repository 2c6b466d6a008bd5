// Package size binds the catalogue of figures to a sizing: which of its numbers each
// figure is, how far it can be trusted in this design, and the cell in which it is
// shown.
package size
