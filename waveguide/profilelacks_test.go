package waveguide

import (
	"testing"

	"gapline/internal/optional"
)

// What a profile lacks is named by its key, never as an area that is no number.
func TestFlareNamesWhatIsNotGiven(t *testing.T) {
	whole := Horn{Profile: ExponentialProfile, Throat: optional.Of(0.03), MouthWidth: optional.Of(0.3), MouthHeight: optional.Of(0.2), Length: optional.Of(0.4)}
	for want, without := range map[string]func(*Horn){
		"horn.throat is not given":       func(h *Horn) { h.Throat = optional.Float{} },
		"horn.mouth_width is not given":  func(h *Horn) { h.MouthWidth = optional.Float{} },
		"horn.mouth_height is not given": func(h *Horn) { h.MouthHeight = optional.Float{} },
		"horn.length is not given":       func(h *Horn) { h.Length = optional.Float{} },
	} {
		h := whole
		without(&h)
		if _, err := h.Flare(); err == nil || err.Error() != want {
			t.Errorf("error %v, want %s", err, want)
		}
	}
	h := whole
	h.Profile, h.Length = TractrixProfile, optional.Float{} // its length follows from its ends
	if _, err := h.Flare(); err != nil {
		t.Error(err)
	}
}
