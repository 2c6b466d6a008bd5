package plots

import (
	"sort"
	"strings"
	"sync"

	"gapline/internal/cleantext"

	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
)

// fontCache parses the fonts at the first text, so that importing the package
// costs nothing.
var fontCache = sync.OnceValue(func() *font.Cache { return font.NewCache(liberation.Collection()) })

// face returns Liberation Sans at the given size.
func face(size vg.Length, bold bool) font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = stdfont.WeightBold
	}
	return fontCache().Lookup(f, size)
}

// textWidth measures one line of text.
func textWidth(s string, size vg.Length, bold bool) vg.Length {
	f := face(size, bold)
	return f.Width(s)
}

// Vertical measures of Liberation Sans over the font size: the height of
// capitals, and how far the box of a text reaches above and below its baseline.
const (
	capHeight   = 0.69
	boxAscent   = 0.76
	boxDescent  = 0.21
	ellipsis    = "…"
	minusSign   = "−"
	thinDivider = " · "
)

// clean makes a text fit for one line of any output format.
func clean(s string) string { return strings.TrimSpace(cleantext.Line(s)) }

// wrap breaks s into lines no wider than width; a word wider than a line is
// broken inside. At most max lines are returned (0: any number), the last one
// cut with an ellipsis if needed. An empty text gives no lines.
func wrap(s string, size vg.Length, bold bool, width vg.Length, max int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(clean(s)) {
		for {
			try := strings.TrimPrefix(line+" "+word, " ")
			if textWidth(try, size, bold) <= width {
				line = try
				break
			}
			if line != "" {
				lines = append(lines, line)
				line = ""
				continue
			}
			head, tail := splitAt(word, size, bold, width)
			lines = append(lines, head)
			word = tail
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	if max > 0 && len(lines) > max {
		rest := strings.Join(lines[max-1:], " ")
		lines = append(lines[:max-1:max-1], cut(rest, size, bold, width))
	}
	return lines
}

// splitAt breaks a word after as many letters as fit into width, one at least.
func splitAt(word string, size vg.Length, bold bool, width vg.Length) (head, tail string) {
	r := []rune(word)
	n := 1 + sort.Search(len(r)-1, func(n int) bool { return textWidth(string(r[:n+2]), size, bold) > width })
	return string(r[:n]), string(r[n:])
}

// cut shortens s to width, with an ellipsis if anything is lost.
func cut(s string, size vg.Length, bold bool, width vg.Length) string {
	if textWidth(s, size, bold) <= width {
		return s
	}
	r := []rune(s)
	short := func(n int) string { return strings.TrimRight(string(r[:n]), " ,;·") + ellipsis }
	// A longer beginning is never narrower, so the longest that fits is found by
	// halving.
	n := sort.Search(len(r)-1, func(n int) bool { return textWidth(short(n+1), size, bold) > width })
	if n == 0 {
		return ellipsis
	}
	return short(n)
}

// widest returns the width of the longest of several lines.
func widest(lines []string, size vg.Length, bold bool) vg.Length {
	var w vg.Length
	for _, s := range lines {
		w = max(w, textWidth(s, size, bold))
	}
	return w
}
