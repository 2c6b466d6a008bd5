package design

import "strings"

// Review is what the designer writes for the meeting: plain words, which no
// figure depends on. Reasons and OpenPoints hold one point a line.
type Review struct {
	Question   string
	Decision   string
	Reasons    string
	OpenPoints string
	Author     string
	Revision   string
}

// Points splits a text of one point a line; blank lines are no points.
func Points(text string) []string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}
