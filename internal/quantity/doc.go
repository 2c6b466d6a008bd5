// Package quantity reads and writes numbers with units. Inside the program
// every value is SI; units exist only at the edges, in design files, on the
// command line and in printed text.
//
// A quantity is a number followed by a unit: "230 mm", "9in", "12 L",
// "90 deg", "1.2 kHz". The space may be left out or be any Unicode space, the
// minus may be U+2212, and the usual Unicode signs (°, Ω, µ, ², ³, ″) are
// accepted. A number without a unit is refused wherever a unit is needed.
package quantity
