// Package figures is the table of the numbers that the program prints: key, symbol,
// unit, level of trust, formula and source of each, once.
package figures
