package machine

import (
	"encoding/json"
	"strings"

	"gapline/internal/result"
)

// AppendCell appends a cell as JSON holds it.
func AppendCell(dst []byte, c *result.Cell) []byte {
	if c.StateOf() == result.Value {
		return AppendNumber(dst, machine(c))
	}
	text, err := json.Marshal(Value(c))
	if err != nil {
		return append(dst, "null"...) // words, lists and truths always can be written
	}
	return append(dst, text...)
}

// AppendCSV appends a cell as CSV holds it.
func AppendCSV(dst []byte, c *result.Cell) []byte {
	if c.StateOf() == result.Value {
		return AppendField(dst, machine(c))
	}
	text := field(c)
	if strings.ContainsAny(text, ",\"\r\n") {
		text = `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
	}
	return append(dst, text...)
}
