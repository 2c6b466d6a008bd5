// Package rows renders tables of any length row by row, as text, CSV or JSON, whole or
// in slices that join to what one run would have written. It keeps no rows: columns of
// text have fixed widths, and rows can be set on several cores and written in order.
package rows

// Format is the form of the output, as part files name it.
type Format string

// The formats.
const (
	Text Format = "text"
	CSV  Format = "csv"
	JSON Format = "json"
)
