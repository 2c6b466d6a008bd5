// Package screen turns results into text: the screen of the size command,
// tables, CSV and JSON. Words and units of figures come from the table of
// figures.
package screen
