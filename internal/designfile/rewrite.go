package designfile

import (
	"fmt"
	"slices"
	"strings"

	"gapline/internal/schema"
)

// Change is a new value for one key, written as TOML.
type Change struct{ Path, Value string }

// Rewrite returns the text of a design file with the values of some keys changed
// and everything else, comments too, as it stands. Another number of boxes takes the lists
// along that have an entry for each, as schema.Refitted does. A key that the file does not
// give is added at the end of its table, or in a new table at the end of the file.
// The error says when the file writes a key in a form that cannot be changed, such
// as an inline table.
func Rewrite(text string, changes []Change) (string, error) {
	changes = withRefits(text, changes)
	for _, c := range changes {
		text = rewriteOne(text, c)
	}
	f, err := Parse("the rewritten design", []byte(text), nil)
	if err != nil {
		return "", err
	}
	for _, c := range changes {
		if !f.Given(c.Path) {
			return "", fmt.Errorf("%s cannot be written into this file", c.Path)
		}
	}
	return text, nil
}

// withRefits adds the lists that follow a change of line.boxes and are not changed
// themselves. A text or a number that cannot be read is the caller's to find.
func withRefits(text string, changes []Change) []Change {
	at := slices.IndexFunc(changes, func(c Change) bool { return c.Path == "line.boxes" })
	if at < 0 {
		return changes
	}
	settings := []string{"line.boxes=" + changes[at].Value}
	for _, c := range changes {
		if k := schema.FindKey(c.Path); k != nil && k.PerBox() {
			settings = append(settings, c.Path+"="+c.Value)
		}
	}
	f, err := Parse("the design", []byte(text), settings)
	if err != nil {
		return changes
	}
	for _, r := range f.Refits {
		value := encoded(r.Key, &f.Design)
		if len(r.List) == 0 {
			value = "[]"
		}
		changes = append(slices.Clone(changes), Change{Path: r.Key.Path, Value: value})
	}
	return changes
}

// rewriteOne changes one key.
func rewriteOne(text string, c Change) string {
	lines := strings.Split(text, "\n")
	table, leaf, _ := strings.Cut(c.Path, ".")
	at := keyLines(text)
	if n, ok := at[c.Path]; ok {
		return strings.Join(replaceValue(lines, n-1, c.Value), "\n")
	}
	line := leaf + " = " + c.Value
	if n, ok := at[table]; ok {
		return strings.Join(slices.Insert(lines, tableEnd(lines, n), line), "\n")
	}
	return strings.TrimRight(text, "\n") + "\n\n[" + table + "]\n" + line + "\n"
}

// replaceValue puts a value in place of the one that starts in a line and may run
// on below it. A comment behind the old value stays.
func replaceValue(lines []string, first int, value string) []string {
	last := lastLine(lines, first)
	eq := equalsSign(lines[first])
	changed := lines[first][:eq+1] + " " + value
	if i := commentStart(lines[last], first == last); i >= 0 {
		changed += " " + lines[last][i:]
	}
	if strings.HasSuffix(lines[last], "\r") && !strings.HasSuffix(changed, "\r") {
		changed += "\r"
	}
	return slices.Replace(lines, first, last+1, changed)
}

// lastLine returns the line on which the value ends that starts in a line.
func lastLine(lines []string, first int) int {
	last := first
	s := lineScanner{lines: map[string]int{}}
	for s.line(0, lines[last]); (s.until != "" || s.nested > 0) && last+1 < len(lines); {
		last++
		s.line(0, lines[last])
	}
	return last
}

// commentStart finds the comment behind a value; −1 when there is none.
func commentStart(line string, hasKey bool) int {
	from := 0
	if hasKey {
		from = equalsSign(line) + 1
	}
	return outsideQuotes(line, from, '#')
}

// tableEnd returns the line after the last key of the table whose header is line
// number header, counted from 1.
func tableEnd(lines []string, header int) int {
	end := header
	for i := header; i < len(lines); i++ {
		text := strings.TrimSpace(lines[i])
		if strings.HasPrefix(text, "[") && equalsSign(text) < 0 && (i == header || !continues(lines, header, i)) {
			break
		}
		if text != "" && text[0] != '#' {
			end = i + 1
		}
	}
	return end
}

// continues reports whether line i lies inside a list that began after the
// header.
func continues(lines []string, header, i int) bool {
	s := lineScanner{lines: map[string]int{}}
	for _, line := range lines[header:i] {
		s.line(0, line)
	}
	return s.until != "" || s.nested > 0
}
