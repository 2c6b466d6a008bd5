package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// A document is one Markdown file, read for what can be checked in it. Lines
// count from 0 inside and from 1 in messages.
type document struct {
	root, path string // of the tree; of the file below it
	lines      []string
	commands   []command
	quotes     []quote
	files      []file
	images     []image
	links      []link
	prose      []int // lines outside fences and comments
	known      string
	derived    []int // lines of marks that work one quantity out from two
}

// A command is one line of a sh block, its comment taken off.
type command struct {
	line int
	text string
}

// A quote is a block that shows what a command printed: lines[first:last].
type quote struct {
	line, first, last int
	command           string
	selectors         []selector
}

// A file is a block that the reader saves under a name before the commands run.
type file struct{ name, text string }

// An image is a picture the document shows. Its path is relative to the document.
type image struct {
	line      int
	alt, path string
}

// A link leads to another file of the tree.
type link struct {
	line int
	path string
}

var (
	commentTail = regexp.MustCompile(`\s+#\s.*$`)
	outputMark  = regexp.MustCompile(`^<!-- output: (.+?)(?: :: (.+))? -->$`)
	fileMark    = regexp.MustCompile(`^<!-- file: ([\w.-]+) -->$`)
	knownMark   = regexp.MustCompile(`^<!-- known: .+ -->$`)
	imageMark   = regexp.MustCompile(`!\[([^\]]*)\]\(([^)\s]+)\)`)
	linkMark    = regexp.MustCompile(`(?:^|[^!])\[[^\]]*\]\(([^)\s#]+)(?:#[^)]*)?\)`)
)

// readDocument reads the file path below root.
func readDocument(root, path string) (*document, error) {
	text, err := os.ReadFile(filepath.Join(root, path))
	if err != nil {
		return nil, err
	}
	d := &document{root: root, path: path, lines: strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")}
	return d, d.parse()
}

// parse fills in everything but the lines. It returns an error with line where a
// fence stays open or a mark has no block.
func (d *document) parse() error {
	mark := -1 // the line of a mark that waits for its block
	for i := 0; i < len(d.lines); i++ {
		line := d.lines[i]
		switch {
		case strings.HasPrefix(line, "```"):
			end := d.fenceEnd(i)
			if end < 0 {
				return d.errorf(i, "the block that starts here does not end")
			}
			if err := d.readBlock(mark, i, end); err != nil {
				return err
			}
			i, mark = end, -1
		case mark >= 0 && strings.TrimSpace(line) != "":
			return d.errorf(mark, "no block follows this mark")
		case strings.HasPrefix(line, "<!-- output:"), strings.HasPrefix(line, "<!-- file:"):
			mark = i
		case knownMark.MatchString(line):
			d.known += line + "\n"
		case strings.HasPrefix(line, "<!-- derived:"):
			d.derived = append(d.derived, i)
		default:
			d.readProse(i)
		}
	}
	if mark >= 0 {
		return d.errorf(mark, "no block follows this mark")
	}
	return nil
}

// readBlock reads the fenced block from line first to line end, which follows the
// mark on line mark, or none when that is negative.
func (d *document) readBlock(mark, first, end int) error {
	switch {
	case mark >= 0 && fileMark.MatchString(d.lines[mark]):
		name := fileMark.FindStringSubmatch(d.lines[mark])[1]
		d.files = append(d.files, file{name, strings.Join(d.lines[first+1:end], "\n") + "\n"})
	case mark >= 0:
		q, err := d.readOutputMark(mark)
		if err != nil {
			return err
		}
		q.first, q.last = first+1, end
		d.quotes = append(d.quotes, q)
	case d.lines[first] == "```sh":
		d.readCommands(first+1, end)
	}
	return nil
}

// fenceEnd returns the line that closes the fence opened at line i, or -1.
func (d *document) fenceEnd(i int) int {
	for j := i + 1; j < len(d.lines); j++ {
		if d.lines[j] == "```" {
			return j
		}
	}
	return -1
}

// readCommands collects the commands of the sh block lines[first:last].
func (d *document) readCommands(first, last int) {
	for i := first; i < last; i++ {
		if strings.HasPrefix(d.lines[i], "gapline ") {
			d.commands = append(d.commands, command{i, commentTail.ReplaceAllString(d.lines[i], "")})
		}
	}
}

func (d *document) readOutputMark(i int) (quote, error) {
	m := outputMark.FindStringSubmatch(d.lines[i])
	if m == nil {
		return quote{}, d.errorf(i, "a mark reads <!-- output: COMMAND :: SELECTOR... -->")
	}
	selectors, err := parseSelectors(m[2])
	if err != nil {
		return quote{}, d.errorf(i, "%v", err)
	}
	return quote{line: i, command: m[1], selectors: selectors}, nil
}

func (d *document) readProse(i int) {
	d.prose = append(d.prose, i)
	for _, m := range imageMark.FindAllStringSubmatch(d.lines[i], -1) {
		d.images = append(d.images, image{i, m[1], m[2]})
	}
	for _, m := range linkMark.FindAllStringSubmatch(d.lines[i], -1) {
		if !strings.Contains(m[1], "://") {
			d.links = append(d.links, link{i, m[1]})
		}
	}
}

// errorf returns an error that names the document and the line.
func (d *document) errorf(line int, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", d.path, line+1, fmt.Sprintf(format, args...))
}

// lastRun returns the index of the last command above the quote that reads as the
// quote's does, or -1.
func (d *document) lastRun(q quote) int {
	found := -1
	for i, c := range d.commands {
		if c.line < q.line && c.text == q.command {
			found = i
		}
	}
	return found
}
