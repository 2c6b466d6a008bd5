// Package plots draws the program's pictures in one style. It knows curves,
// strips and maps; it computes no physics.
package plots
