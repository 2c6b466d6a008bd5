package section

import (
	"errors"

	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// problems collects what keeps a section from being cut.
type problems []check.Problem

func (c *problems) add(text string, keys ...string) {
	*c = append(*c, check.Problem{Keys: keys, Text: text})
}

// need adds a problem when the value of a key is not given.
func (c *problems) need(x float64, key, use string) {
	if !numeric.Given(x) {
		c.add(key+" is needed: "+use, key)
	}
}

// all adds the parts of a joined error.
func (c *problems) all(prefix string, err error, keys ...string) {
	var joined interface{ Unwrap() []error }
	switch {
	case err == nil:
	case errors.As(err, &joined):
		for _, e := range joined.Unwrap() {
			c.add(prefix+e.Error(), keys...)
		}
	default:
		c.add(prefix+err.Error(), keys...)
	}
}

func length(m float64) string { return quantity.Format(m, quantity.Length, quantity.Metric) }
