// Package plots draws the program's pictures in one style: frequency strips,
// gap-against-lever curves, responses, maps, polars and drawings. It takes
// plain data (float64 slices, labels, ready-made texts) and computes no
// physics.
//
// A chart is a struct that satisfies Figure. Its zero value is an empty chart;
// Save and WriteSVG say what is missing.
//
//	strip := plots.Strip{Groups: []plots.StripGroup{{Rows: []plots.StripRow{
//		{Label: "woofers couple", From: 225, To: 675},
//	}}}}
//	err := plots.Save("strip.svg", strip)
//
// How a picture is made: the chart lays itself out on a sheet, a list of
// lines, areas, images and measured texts in points (1/72 inch, y upward,
// origin at the lower left); one of three writers (png.go, svg.go, pdf.go)
// turns the sheet into bytes. Because each text is measured and kept, charts
// can place labels where nothing else is written, and tests can check it.
//
// Conventions:
//   - NaN in a curve or a map means "no value here": the curve breaks, the map
//     cell stays white. An infinite value is an error.
//   - Same data, same bytes, in PNG, SVG and PDF: no clock, no random ids.
//   - Levels, units and conditions are words of the caller; charts add none
//     but "gapline predicted" in the footer.
//
// Proportions follow IEC 60263: on level charts one frequency decade is as
// long as 50, 25 or 10 dB; on log-log charts one decade of frequency is as long
// as 0.5, 1, 1.25 or 2.5 decades of the quantity; polars grow outward, with 0°
// at the top.
package plots
