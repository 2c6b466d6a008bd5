package maximum

// Cause is what stops a band from playing louder.
type Cause uint8

// The causes.
const (
	NoCause   Cause = iota // nothing given that limits
	Excursion              // a cone or diaphragm reaches its excursion limit
	Radiator               // a passive radiator reaches its own
	Power                  // the voice coils reach their power
	VentAir                // the air in the vent is likely to be heard
	MouthAir               // so is that in the insert's mouths
	causeCount
)

// causes are the words of the causes, and which of them harm a driver.
var causes = [causeCount]struct {
	word  string
	harms bool
}{
	NoCause: {"none", false}, Excursion: {"excursion", true}, Radiator: {"radiator", true}, Power: {"power", true},
	VentAir: {"vent air", false}, MouthAir: {"mouth air", false},
}

// String returns the cause in a word or two.
func (c Cause) String() string { return causes[c].word }

// Harms reports whether going beyond it harms a driver; air speed is only heard.
func (c Cause) Harms() bool { return causes[c].harms }
