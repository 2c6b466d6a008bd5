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

	narrow bool // set for a narrow column
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
	width, margin := c.bodyWidth(), c.margin()
	titleLines, subLines, footLines := 3, 4, 3
	origin := c.origin()
	beside := 12 + fontReserve*textWidth(origin, footerSize, false)
	if c.narrow {
		titleLines, subLines, footLines, beside = 5, 9, 6, 0
	}
	title := wrap(c.Title, titleSize, true, width/fontReserve, titleLines)
	sub := wrap(c.Subtitle, subtitleSize, false, width/fontReserve, subLines)
	says := c.footer()
	if c.narrow {
		says, origin = strings.TrimPrefix(says+thinDivider+origin, thinDivider), ""
	}
	foot := wrap(says, footerSize, false, (width-beside)/fontReserve, footLines)

	head := vg.Length(len(title))*titleSize*lineSpacing + vg.Length(len(sub))*subtitleSize*lineSpacing
	if head > 0 {
		head += gap
	}
	footRows := vg.Length(max(1, len(foot)))
	tail := footRows*footerSize*lineSpacing + gap

	s := &sheet{width: c.fullWidth(), height: 2*margin + head + body + tail}
	s.title, s.desc = clean(c.Title), clean(c.describing().Alt)
	s.fillRect(paper, rect(0, 0, s.width, s.height))

	y := s.height - margin
	s.textLines(title, label{at: vg.Point{X: margin, Y: y}, alignY: 1, size: titleSize, bold: true, color: ink})
	y -= vg.Length(len(title)) * titleSize * lineSpacing
	s.textLines(sub, label{at: vg.Point{X: margin, Y: y}, alignY: 1, size: subtitleSize, color: inkSoft})

	top := margin + footRows*footerSize*lineSpacing
	s.line(stroke{color: gridMajor, width: 0.6}, margin, top+2.5, s.width-margin, top+2.5)
	s.textLines(foot, label{at: vg.Point{X: margin, Y: top}, alignY: 1, size: footerSize, color: inkSoft})
	s.text(label{text: origin, at: vg.Point{X: s.width - margin, Y: top}, alignX: 1, alignY: 1, size: footerSize, color: inkSoft})
	if c.narrow {
		s.zoom = narrowZoom
	}
	return s, rect(margin, margin+tail, s.width-margin, margin+tail+body)
}
