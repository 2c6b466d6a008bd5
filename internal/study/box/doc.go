// Package box works out what one box of a design does at the low end: alone,
// with and without its insert, in a stack, with other drivers in it; and what a
// measured impedance sweep says about its driver. The physics is package
// driver's; here it is chosen and run over frequencies. The package reads no files
// and says nothing in sentences.
package box
