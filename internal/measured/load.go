package measured

import (
	"bufio"
	"bytes"
	"context"
	"path/filepath"
	"strings"

	"gapline/internal/openfile"
)

// Import says how impulse responses are read; text tables need nothing.
type Import struct {
	Channel int // from 1; 0: the only one
	Gate    Gate
}

// Load reads the response in the file at path, a text table or a WAV impulse
// response; the content tells which.
func Load(ctx context.Context, path string, o Import) (Trace, error) {
	file, err := openfile.Open(ctx, path, "a measured response")
	if err != nil {
		return Trace{}, err
	}
	defer file.Close()
	r := bufio.NewReader(file)
	head, _ := r.Peek(4) // an error comes again
	isWave := bytes.HasPrefix(head, []byte("RIF")) || bytes.Equal(head, []byte("RF64"))
	if !isWave && !strings.EqualFold(filepath.Ext(path), ".wav") {
		return ReadText(r)
	}
	impulse, err := ReadWAV(r, o.Channel)
	if err != nil {
		return Trace{}, err
	}
	return impulse.Trace(o.Gate)
}
