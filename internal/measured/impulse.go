package measured

import (
	"io"

	"gapline/internal/wav"
)

// Impulse is a recorded impulse response.
type Impulse wav.Sound

// ReadWAV reads an impulse response from one channel of a WAV file, see wav.Read.
func ReadWAV(r io.Reader, channel int) (Impulse, error) {
	s, err := wav.Read(r, channel)
	return Impulse(s), err
}
