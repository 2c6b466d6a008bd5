package plots

import (
	"strings"

	"gonum.org/v1/plot/vg"
)

// Caption holds the words that every picture carries around its data.
type Caption struct {
	Title    string // what the picture shows
	Subtitle string // conditions: model, boundary, distance, drive, smoothing
	Design   string // title of the design, for the footer
	Air      string // such as "20 °C, 50 % RH, 101.3 kPa", for the footer
	Trust    string // level of trust: "rule", "aperture", "wave" or several
	Origin   string // who says so; default "gapline predicted"
	Alt      string // text alternative for readers who do not see the picture; default: made from the data
}

// footer joins the parts of the footer that are given.
func (c Caption) footer() string {
	var parts []string
	add := func(prefix, s string) {
		if s = clean(s); s != "" {
			parts = append(parts, prefix+s)
		}
	}
	add("", c.Design)
	add("air ", c.Air)
	add("trust: ", c.Trust)
	return strings.Join(parts, thinDivider)
}

// origin returns who predicted or measured what is shown.
func (c Caption) origin() string {
	if s := clean(c.Origin); s != "" {
		return s
	}
	return "gapline predicted"
}

// describing returns the caption with a text alternative made of the subtitle,
// what the chart says about its data, and the footer, unless the caller gave one.
func (c Caption) describing(data ...string) Caption {
	if clean(c.Alt) != "" {
		return c
	}
	var parts []string
	for _, s := range append(append([]string{c.Subtitle}, data...), c.footer(), c.origin()) {
		if s = strings.TrimRight(clean(s), "."); s != "" {
			parts = append(parts, s)
		}
	}
	c.Alt = strings.Join(parts, ". ") + "."
	return c
}

// fontReserve is by how much a viewer's own font may be wider than the one that
// texts are measured in, where the viewer knows no textLength: then long lines
// neither leave the sheet nor run into each other.
const fontReserve = 1.14

// newSheet makes a sheet with title, subtitle and footer around a body of the
// given height, and returns the body's rectangle.
func newSheet(c Caption, body vg.Length) (*sheet, vg.Rectangle) {
	const gap = 8
	width := sheetWidth - 2*sheetMargin
	title := wrap(c.Title, titleSize, true, width/fontReserve, 3)
	sub := wrap(c.Subtitle, subtitleSize, false, width/fontReserve, 4)
	origin := c.origin()
	foot := wrap(c.footer(), footerSize, false, (width-12)/fontReserve-textWidth(origin, footerSize, false), 3)

	head := vg.Length(len(title))*titleSize*lineSpacing + vg.Length(len(sub))*subtitleSize*lineSpacing
	if head > 0 {
		head += gap
	}
	footRows := vg.Length(max(1, len(foot)))
	tail := footRows*footerSize*lineSpacing + gap

	s := &sheet{width: sheetWidth, height: 2*sheetMargin + head + body + tail}
	s.title, s.desc = clean(c.Title), clean(c.describing().Alt)
	s.fillRect(paper, rect(0, 0, s.width, s.height))

	y := s.height - sheetMargin
	s.textLines(title, label{at: vg.Point{X: sheetMargin, Y: y}, alignY: 1, size: titleSize, bold: true, color: ink})
	y -= vg.Length(len(title)) * titleSize * lineSpacing
	s.textLines(sub, label{at: vg.Point{X: sheetMargin, Y: y}, alignY: 1, size: subtitleSize, color: inkSoft})

	top := sheetMargin + footRows*footerSize*lineSpacing
	s.line(stroke{color: gridMajor, width: 0.6}, sheetMargin, top+2.5, s.width-sheetMargin, top+2.5)
	s.textLines(foot, label{at: vg.Point{X: sheetMargin, Y: top}, alignY: 1, size: footerSize, color: inkSoft})
	s.text(label{text: origin, at: vg.Point{X: s.width - sheetMargin, Y: top}, alignX: 1, alignY: 1, size: footerSize, color: inkSoft})
	return s, rect(sheetMargin, sheetMargin+tail, s.width-sheetMargin, sheetMargin+tail+body)
}
