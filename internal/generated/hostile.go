package generated

import "strings"

// forged is a text that would print a verdict of its own, clear the screen and turn the
// direction of what follows.
const forged = "MET     forged\rMET     forged\u2028\u001b[2J\u001b[31m\u009b31m\u0085\b\u202eback\u2066"

// hostile is the text of a design that was damaged, or that tries to do more than to be
// one.
func (m *maker) hostile() string {
	text := m.text()
	switch m.IntN(10) {
	case 0: // cut off
		return text[:m.IntN(len(text))]
	case 1: // bytes changed
		b := []byte(text)
		for range 1 + m.IntN(20) {
			b[m.IntN(len(b))] = byte(m.IntN(256))
		}
		return string(b)
	case 2: // lines in another order, some twice
		lines := strings.Split(text, "\n")
		m.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		return strings.Join(append(lines, lines[:len(lines)/3]...), "\n")
	case 3: // no text at all
		b := make([]byte, m.IntN(5000))
		for i := range b {
			b[i] = byte(m.IntN(256))
		}
		return string(b)
	case 4: // texts that forge
		return "title = " + escaped(forged) + "\n" + withoutTitle(text) + "[review]\nauthor = " + escaped(forged) + "\n"
	case 5: // names that forge
		return text + "\n[" + escaped(forged) + "]\n" + escaped(forged) + " = " + escaped(forged) + "\n"
	case 6: // deep
		return text + "\ndeep = " + strings.Repeat("[", 1+m.IntN(200_000))
	case 7: // deep by dots
		return text + "\n[" + strings.Repeat("a.", 1+m.IntN(100_000)) + "a]\n"
	case 8: // one long value
		return "title = \"" + strings.Repeat(oneOf(m, "x", "é", "\\u0007", "A "), 1+m.IntN(200_000)) + "\"\n" + withoutTitle(text)
	}
	// more than a file may hold
	return text + strings.Repeat("# a long comment that says nothing at all\n", 20_000+m.IntN(20_000))
}

// escaped writes a text as TOML with every letter by its number.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		const digits = "0123456789abcdef"
		b.WriteString(`\u`)
		for shift := 12; shift >= 0; shift -= 4 {
			b.WriteByte(digits[r>>shift&15])
		}
	}
	return `"` + b.String() + `"`
}

// withoutTitle takes the title out of a file, which may give each key once.
func withoutTitle(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "title") {
			lines[i] = ""
		}
		if strings.HasPrefix(line, "[") {
			break
		}
	}
	return strings.Join(lines, "\n")
}
