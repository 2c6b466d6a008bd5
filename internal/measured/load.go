package measured

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
)

// Import says how impulse responses are read; text tables need nothing.
type Import struct {
	Channel int // from 1; 0: the only one
	Gate    Gate
}

// Load reads the response in the file at path, a text table or a WAV impulse
// response; the content tells which.
func Load(path string, o Import) (Trace, error) {
	f, err := os.Open(path)
	if err != nil {
		return Trace{}, err
	}
	defer f.Close()
	head := make([]byte, 4)
	n, _ := f.Read(head)
	if _, err := f.Seek(0, 0); err != nil {
		return Trace{}, err
	}
	isWave := bytes.HasPrefix(head[:n], []byte("RIF")) || bytes.Equal(head[:n], []byte("RF64"))
	if !isWave && !strings.EqualFold(filepath.Ext(path), ".wav") {
		return ReadText(f)
	}
	impulse, err := ReadWAV(f, o.Channel)
	if err != nil {
		return Trace{}, err
	}
	return impulse.Trace(o.Gate)
}
