package screen

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strings"

	"gapline/internal/cleantext"
)

// SchemaVersion is the version of every JSON object the program prints. It
// rises when a key changes its meaning or goes away; new keys do not raise it.
const SchemaVersion = 1

// Object is a JSON object that keeps its keys in order.
type Object struct {
	keys   []string
	values map[string]any
}

// Set adds or replaces a key.
func (o *Object) Set(key string, v any) *Object {
	if o.values == nil {
		o.values = map[string]any{}
	}
	if _, ok := o.values[key]; !ok {
		o.keys = append(o.keys, key)
	}
	o.values[key] = v
	return o
}

// Path adds a value under a dotted key, making objects on the way.
func (o *Object) Path(key string, v any) {
	head, rest, nested := strings.Cut(key, ".")
	if !nested {
		o.Set(key, v)
		return
	}
	sub, ok := o.values[head].(*Object)
	if !ok {
		sub = &Object{}
		o.Set(head, sub)
	}
	sub.Path(rest, v)
}

// MarshalJSON writes the keys in the order in which they were set.
func (o *Object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, k := range o.keys {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := json.Marshal(k)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(o.values[k])
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// Number is a float64 that JSON can hold: NaN and infinities are null.
type Number float64

// MarshalJSON writes the shortest text that reads back to the same number.
func (n Number) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(f)
}

// WriteJSON writes one indented JSON value and a line end.
func WriteJSON(w io.Writer, v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", "  "); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err = w.Write(cleantext.JSON(out.Bytes()))
	return err
}
