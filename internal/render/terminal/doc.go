// Package terminal renders results as text for people: headings, tables in columns,
// sentences wrapped to a line. It also sets single cells and texts for whoever shows
// them to people elsewhere, so that a number reads alike on the screen, in pictures
// and in the document.
package terminal

// LineWidth is the width of the text, in characters: it fits into a message.
const LineWidth = 96
