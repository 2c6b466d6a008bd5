package plots

import (
	"errors"
	"fmt"
	"gapline/internal/quantity"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// Bars is a ranking: how far each input moves a result, as bars to both sides
// of the present value. Bars stand in the order given.
type Bars struct {
	Caption
	Value Axis    // the result, with its unit
	Base  float64 // the present value
	Bars  []Bar
}

// Bar is one input of a ranking.
type Bar struct {
	Label string
	// The result with the input at the lower and upper end of its tolerance;
	// either may lie on either side of the base.
	AtLow, AtHigh float64
	LowText       string // what the input is at its ends, such as "−2 mm"
	HighText      string
}

// Measures of ranking charts, in points.
const (
	rankBar      vg.Length = 12
	rankPitch    vg.Length = 19
	rankLabelMax vg.Length = 150
)

func (b Bars) check() error {
	if len(b.Bars) == 0 {
		return errors.New("ranking without bars")
	}
	if !finite(b.Base) {
		return fmt.Errorf("ranking about %g: want a finite value", b.Base)
	}
	for _, bar := range b.Bars {
		if !finite(bar.AtLow) || !finite(bar.AtHigh) {
			return fmt.Errorf("ranking bar %q from %g to %g: want finite values", bar.Label, bar.AtLow, bar.AtHigh)
		}
	}
	return nil
}

func (b Bars) layout() (*sheet, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	var labelWidth, endWidth vg.Length
	low, high := b.Base, b.Base
	for _, bar := range b.Bars {
		labelWidth = max(labelWidth, textWidth(b.label(bar), labelSize, false))
		l, r := b.endTexts(bar)
		endWidth = max(endWidth, textWidth(l, noteSize, false), textWidth(r, noteSize, false))
		low, high = min(low, bar.AtLow, bar.AtHigh), max(high, bar.AtLow, bar.AtHigh)
	}
	left := b.margin() + labelWidth + 10
	pitch := rankPitch
	if b.narrow {
		left, pitch = b.margin()+8, rankPitch+labelSize*lineSpacing+2
	}
	right := b.fullWidth() - b.margin() - 12
	// Room for the texts at the bars' ends, as a share of the axis.
	share := float64((endWidth + 8) / (right - left))
	pad := (high - low) * share / (1 - 2*share)
	if pad == 0 {
		pad = math.Max(math.Abs(b.Base)*0.1, 0.1)
	}
	x, err := b.Value.scaleFor(low-pad, high+pad, 6)
	if err != nil {
		return nil, err
	}
	height := vg.Length(len(b.Bars))*pitch + 8
	s, body := newSheet(b.describing(b.words()...), height+xTickRoom+xTitleRoom)
	p := panel{rect: rect(left, body.Max.Y-height, right, body.Max.Y), x: x, y: scale{high: 1}}
	ticks := b.Value.ticks(x, 7)
	p.grid(s, ticks, nil)
	for i, bar := range b.Bars {
		b.drawBar(s, p, bar, body.Max.Y-4-vg.Length(i+1)*pitch+rankPitch/2)
	}
	base := p.xAt(p.x.clamp(b.Base))
	s.line(stroke{color: ink, width: 1.3}, base, p.rect.Min.Y, base, p.rect.Max.Y)
	p.frame(s, ticks, nil)
	p.xLabels(s, ticks, b.Value.title())
	return s, nil
}

func (b Bars) label(bar Bar) string {
	return cut(clean(bar.Label), labelSize, false, b.pick(rankLabelMax, 190))
}

// drawBar draws both sides of a bar at height y: the lower end of the tolerance
// light, the upper end solid.
func (b Bars) drawBar(s *sheet, p panel, bar Bar, y vg.Length) {
	l := label{text: b.label(bar), at: vg.Point{X: p.rect.Min.X - 8, Y: y}, alignX: 1, alignY: 0.5, size: labelSize, color: ink}
	if b.narrow {
		l.at, l.alignX, l.alignY = vg.Point{X: p.rect.Min.X + 3, Y: y + rankPitch/2}, 0, 0
		s.plated(l)
	} else {
		s.text(l)
	}
	base := p.xAt(p.x.clamp(b.Base))
	c := palette[0]
	light := c
	light.A = 0x40
	solid := func(fill color.NRGBA, half vg.Length) func(value float64) vg.Length {
		return func(value float64) vg.Length {
			x := p.xAt(p.x.clamp(value))
			r := rect(min(base, x), y-half, max(base, x), y+half)
			s.fillRect(paper, r)
			s.fillRect(fill, r)
			s.strokeRect(stroke{color: c, width: 0.7}, r)
			return x
		}
	}
	// Where both ends move the result the same way, the bars lie on one another:
	// the light one is drawn taller so that both show.
	x0 := solid(light, rankBar/2)(bar.AtLow)
	half := rankBar / 2
	if (bar.AtLow-b.Base)*(bar.AtHigh-b.Base) > 0 {
		half = rankBar / 4
	}
	x1 := solid(c, half)(bar.AtHigh)
	b.writeEnds(s, p, bar, min(x0, x1, base), max(x0, x1, base), y)
}

// endTexts returns what the input is at the left and right end of its bar, kept
// so short that both fit beside it.
func (b Bars) endTexts(bar Bar) (left, right string) {
	longest := b.pick(55, 50) // points
	low, high := cut(clean(bar.LowText), noteSize, false, longest), cut(clean(bar.HighText), noteSize, false, longest)
	switch {
	case (bar.AtLow-b.Base)*(bar.AtHigh-b.Base) > 0: // both on one side: one text
		both := low + " / " + high
		if low == "" || high == "" {
			both = low + high
		}
		both = cut(both, noteSize, false, b.pick(2*longest+10, 64))
		if bar.AtLow > b.Base {
			return "", both
		}
		return both, ""
	case bar.AtLow > bar.AtHigh:
		return high, low
	}
	return low, high
}

// writeEnds writes the texts beside the bar from x0 to x1, but not off the panel
// if the axis was given too short.
func (b Bars) writeEnds(s *sheet, p panel, bar Bar, x0, x1, y vg.Length) {
	left, right := b.endTexts(bar)
	l := label{at: vg.Point{X: x0 - 4, Y: y}, alignX: 1, alignY: 0.5, size: noteSize, color: ink, text: left}
	l.at.X = max(l.at.X, p.rect.Min.X+2+textWidth(left, noteSize, false))
	s.plated(l)
	l.text, l.at.X, l.alignX = right, x1+4, 0
	l.at.X = min(l.at.X, p.rect.Max.X-2-textWidth(right, noteSize, false))
	s.plated(l)
}

// words says how far each input moves the result.
func (b Bars) words() []string {
	out := []string{fmt.Sprintf("%s, present value %s", b.Value.title(), quantity.Significant(b.Base, 3))}
	for _, bar := range b.Bars {
		out = append(out, fmt.Sprintf("%s: %s gives %s, %s gives %s", bar.Label, bar.LowText, quantity.Significant(bar.AtLow, 3), bar.HighText, quantity.Significant(bar.AtHigh, 3)))
	}
	return out
}
