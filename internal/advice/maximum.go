package advice

import (
	"math"
	"strings"

	"gapline/cabinet/source"
	"gapline/internal/exposure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/horn"
	"gapline/internal/study/line"
	"gapline/internal/study/maximum"
)

// overdriven says which bands the drive takes beyond their limits: the levels at that
// drive are none that they can give.
func (l *list) overdriven(o *maximum.Box, driven []maximum.Overdriven) {
	for i := range o.Bands {
		var does []result.Text
		key := ""
		for _, x := range driven {
			if x.Band != i {
				continue
			}
			does = append(does, beyond(x))
			if key == "" {
				key = tableOf(o.Bands[i].Name) + map[maximum.Cause]string{maximum.Power: ".power", maximum.Excursion: ".xmax"}[x.Cause]
			}
		}
		if len(does) > 0 {
			l.add(result.Caution, key, "The drive is too much for the %s: %s. Levels at this drive cannot be had.", o.Bands[i].Name, joinedBy("; ", does))
		}
	}
}

// beyond words one limit that is exceeded.
func beyond(x maximum.Overdriven) result.Text {
	at, over := hertz(x.Hz).As(quantity.Style{Verb: "%.0f", Unit: "Hz"}), more(x.Over)
	switch x.Cause {
	case maximum.Power:
		watts := func(w float64) result.Cell { return result.Num(w, quantity.Power) }
		return result.Say("a tone of %s puts %s into drivers rated %s in all, %s too much", at, watts(x.Is), watts(x.May), over)
	case maximum.Radiator:
		return result.Say("at %s the passive radiator moves %s of %s, %s too much", at, length(x.Is), length(x.May), over)
	}
	return result.Say("at %s they move %s of %s, %s too much", at, length(x.Is), length(x.May), over)
}

// more is a difference of levels with one decimal.
func more(db float64) result.Cell { return level(db).As(quantity.Style{Verb: "%.1f"}) }

// tableOf is the table of the file that limits a band.
func tableOf(band string) string {
	switch band {
	case source.Woofers:
		return "woofer"
	case source.Mids:
		return "mid"
	}
	return "compression_driver"
}

// largest says what stops the largest programme, what is not known of its limits, and
// what it does to people. seats may be nil.
func (l *list) largest(o *maximum.Box, p *maximum.Programme, seats *maximum.Seats) {
	l.stops(o, p)
	l.unknownLimits(o)
	if p.First() == maximum.None {
		return
	}
	l.add(result.Note, "drive.power", "Largest levels leave out power compression, 2 to 6 dB in long use, amplifiers that clip and any high-pass below the boxes. "+
		"The crest factor counts for travel and air speed, the mean power for heat.")
	if seats != nil {
		l.exposed(p, seats)
	}
	l.add(result.Caution, "drive.power", AmplifierCaution)
}

// unknownLimits names the bands that cannot stop the others, and what they lack.
func (l *list) unknownLimits(o *maximum.Box) {
	for _, b := range o.Missing() {
		why := b.Why
		if why == "" {
			why = "it needs " + tableOf(b.Name) + ".power or " + tableOf(b.Name) + ".xmax"
		}
		l.add(result.Note, tableOf(b.Name)+".power", "What the %s can give is not known: no largest level of tones where that band is heard, and none of programme. %s.", b.Name, capital(why))
	}
}

// stops says which band stops the programme first, and by how much the next one could go
// on.
func (l *list) stops(o *maximum.Box, p *maximum.Programme) {
	first := p.First()
	if first == maximum.None {
		return
	}
	raise, than := numeric.DB(p.Scale), "louder than"
	if raise < 0 {
		raise, than = -raise, "less than"
	}
	text := result.Say("Largest programme, %s with a crest factor of %s: %s %s at this drive. First the %s stop, by %s.", p.Spectrum.Title,
		more(p.Crest.DB()), more(raise), than, o.Bands[first.Band].Name, first.Cause.String())
	if next := p.Next(); next.Band >= 0 {
		text = text.And(result.Say(" Next, %s higher, the %s, by %s.", more(next.DB), o.Bands[next.Band].Name, next.Cause.String()))
	}
	if over := numeric.DB(p.Harmless / p.Scale); over > 0 && !math.IsInf(over, 1) {
		text = text.And(result.Say(" Beyond that air is likely to be heard; no driver is harmed for another %s.", more(over)))
	}
	l.add(result.Note, "drive.voltage", "%s", text)
}

// exposed sets the largest programme at the loudest seat against the guidance.
func (l *list) exposed(p *maximum.Programme, s *maximum.Seats) {
	at := s.LoudestLevel()
	text := result.Say("At the largest programme that harms no driver the loudest seat, %s out, gets %s dBA, its peaks about %s dBC.", away(s.Seat[s.Loudest].X), tenths(at), tenths(s.Peak))
	if at < quietest {
		text = text.And(result.Say(" That is below the range of the guidance."))
	} else {
		var doses []result.Text
		for _, e := range s.Exposures {
			doses = append(doses, result.Say("%s of %s dBA, after %s", e.Of.Name, result.Num(e.Of.Level, quantity.Number).As(quantity.Style{Verb: "%.0f"}), duration(e.Time)))
		}
		text = text.And(result.Say(" The dose of a day (8 h) is reached: %s.", joinedBy("; ", doses)))
	}
	if m := s.VenueMargin(); m < 0 {
		text = text.And(result.Say(" %s over the venue limit of %s dB LAeq,15min.", level(-m), result.Num(exposure.Venue, quantity.Number).As(quantity.Style{Verb: "%.0f"})))
	}
	var peaks []string
	for _, e := range s.Exposures {
		if e.Over {
			peaks = append(peaks, e.Of.Name)
		}
	}
	if len(peaks) > 0 {
		text = text.And(result.Say(" The peaks are beyond those of: %s.", strings.Join(peaks, "; ")))
	}
	l.add(result.Caution, "audience.start", "%s Local rules decide (NIOSH 98-126; Directive 2003/10/EC; WHO 2022).", text)
}

// joinedBy sets texts one after the other.
func joinedBy(separator string, texts []result.Text) result.Text {
	var out result.Text
	for i, t := range texts {
		if i > 0 {
			out = out.And(result.Plain(separator))
		}
		out = out.And(t)
	}
	return out
}

// loudest are the findings of a stack's largest levels.
func (l *list) loudest(r *line.Result) {
	if r.One == nil {
		return
	}
	l.overdriven(r.One, r.Overdriven)
	if r.Maximum != nil {
		l.largest(r.One, r.Maximum.Programme, r.Maximum.Seats)
	}
}

// hornDriven says where the drive of the horn is too much for its driver.
func (f *finder) hornDriven(st *horn.Study) {
	h, l := &st.Design.HornDrive, st.Loading
	watts := l.Voltage * l.Voltage / h.Driver.Re.Value()
	if over := 10 * math.Log10(watts/h.Power.Value()); over > 1e-9 {
		f.add(result.Caution, "compression_driver.voltage", "The drive is too much for the compression driver: %s into its resistance, and it is rated %s, %s too much. Powers and excursions at this drive cannot be had.",
			result.Num(watts, quantity.Power), result.Num(h.Power.Value(), quantity.Power), more(over))
	}
	from, most, at := numeric.Or(st.Sizing.Horn.Lower, st.Frequency[0]), 0.0, 0.0
	for i, f := range st.Frequency {
		if x := l.Drives[i].Excursion; f >= from && x > most {
			most, at = x, f
		}
	}
	if xmax := h.Xmax.Value(); most > xmax {
		f.add(result.Caution, "compression_driver.voltage", "At this drive the diaphragm moves %s at %s, and it may move %s (compression_driver.xmax).", length(most), hertz(at), length(xmax))
	}
}
