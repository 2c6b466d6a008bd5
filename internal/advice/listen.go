package advice

import (
	"math"

	"gapline/cabinet/source"
	"gapline/internal/result"
	"gapline/internal/study/listen"
)

// ListeningCaution stands wherever a sound is made to be listened to.
const ListeningCaution = "Turn the volume down before you play the file, most of all on headphones, and come up from there: " +
	"its level is not that of the hall, and B may be louder than A. " + ExposureGuidance

// ListenFindings are the notes and cautions of two states as they sound.
func ListenFindings(r *listen.Result) []result.Finding {
	var l list
	l.assumed("listen.a", r.A.Design, r.A.Model)
	if r.B.Design != r.A.Design {
		l.assumed("listen.b", r.B.Design, r.B.Model)
	}
	l.add(result.Note, "listen.a.response_db", "Heard is what the model knows: bands, crossover, splay and air, without a room, distortion or what boxes shade. "+
		"Delays count at the mouths, the ways inside the boxes are left out; the time of flight from the middle of the stack is taken out of both.")
	l.rematched(r)
	if r.A.Absorbs(true) || r.B.Absorbs(true) {
		l.add(result.Note, "listen.a.response_db", "Air absorbs by ISO 9613-1, with the minimum phase that goes with it over the way from the middle of the stack.")
	}
	if r.Absolute && r.A.Model.InHalfSpace() {
		l.add(result.Note, "cabinet.width", "Levels are those of boxes in a wall (half space). Below about %s, c/(π·cabinet.width), a stack in the open is up to 6 dB quieter.",
			hertz(r.A.Model.HalfSpaceFrom))
	}
	if !r.Absolute {
		l.add(result.Note, "listen.a.sound_db", "No level is known of one state or both: levels are relative.")
	}
	if r.Signal.Cut {
		l.add(result.Note, "listen.signal.length_s", "The sound file is longer: its beginning is played, faded at the cut.")
	}
	if r.Top < listen.Highest {
		l.add(result.Note, "listen.band.high_hz", "At this sample rate nothing is heard above %s.", hertz(r.Top))
	}
	l.add(result.Caution, "listen.a.true_peak_db", ListeningCaution)
	l.add(result.Caution, "line.boxes", SuspensionCaution)
	return l.out
}

// audibly is by how much a band must be moved to be worth a word, dB.
const audibly = 0.05

// rematched says which bands play at another level in B, since each state matches them.
func (l *list) rematched(r *listen.Result) {
	for _, x := range r.Rematched() {
		if !(math.Abs(x.By) > audibly) {
			continue
		}
		key, word, by := "horn.gain", "lower", math.Abs(x.By)
		if x.Band == source.Mids {
			key = "mid.gain"
		}
		if x.By > 0 {
			word = "higher"
		}
		l.add(result.Note, key, "The %s plays %s %s in B than in A: each state matches it on axis to the band beside it at the crossover. --other %s moves it.",
			x.Band, level(by), word, key)
	}
}
