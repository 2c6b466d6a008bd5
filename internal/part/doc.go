// Package part cuts long work into slices that run anywhere and are joined
// again.
//
// A part file is text. Its first line is a JSON object that says what the part
// belongs to. The lines that follow start with a letter that says what they
// hold; the last one, E, says that the part is complete.
package part
