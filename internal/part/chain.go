package part

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"hash"
	"io"
)

// chain is a SHA-256 digest that goes on from line to line: that of a line is
// taken over the digest of the line before and the line's own text. So the mark of
// a line fits at one place of one file only.
type chain struct {
	last [sha256.Size]byte
	next hash.Hash
}

func newChain() chain { return chain{next: sha256.New()} }

// markLength is the length of a line's mark: the first digits of its digest. They
// find the line that is wrong; the digest in the foot is a whole one.
const markLength = 8

// writer takes the text of the next line piece by piece.
func (c *chain) writer() io.Writer { return c.next }

// close ends the line and returns its mark.
func (c *chain) close() string {
	c.next.Sum(c.last[:0])
	c.next.Reset()
	c.next.Write(c.last[:])
	return hex.EncodeToString(c.last[:markLength/2])
}

// add takes a line whole and returns its mark.
func (c *chain) add(pieces ...[]byte) string {
	for _, p := range pieces {
		c.next.Write(p)
	}
	return c.close()
}

// footLetter begins the foot.
const footLetter = 'E'

// seal is the foot as it stands in the file: with the mark of the head, and with
// the digest of all lines and of the foot itself, which ends the chain.
type seal struct {
	Foot
	Head   string `json:"head"`
	Digest string `json:"sha256"`
}

// close works out the digest and returns the foot's text.
func (s *seal) close(c *chain) ([]byte, error) {
	s.Digest = ""
	open, err := json.Marshal(s)
	if err != nil {
		return nil, err
	}
	c.add(open)
	s.Digest = hex.EncodeToString(c.last[:])
	return json.Marshal(s)
}
