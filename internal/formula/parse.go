package formula

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Line is one line of a formula.
type Line struct {
	Text   string // as it is printed
	Name   string // of what it gives; empty for a remark
	ways   []way
	search *search
}

// way is one way to a quantity.
type way struct {
	value node
	given string // what has to be known; empty: nothing beyond its terms
	is    string // with word: the name whose word has to be this
	word  string
	not   bool // it must not be this word
}

// search says which value of a variable is wanted.
type search struct {
	of          string
	least       bool // the least whole number, else the highest value
	left, right node
}

var (
	leastForm   = regexp.MustCompile(`^(.*), at the least (\S+) = 1, 2, 3 … with (.*) > (.*)$`)
	highestForm = regexp.MustCompile(`^(.*), at the highest (\S+) with (.*) = (.*)$`)
	givenForm   = regexp.MustCompile(`^(.*) where (\S+) is given$`)
	wordForm    = regexp.MustCompile(`^(.*) (where|unless) (\S+) is (\S+)$`)
)

// Parse reads the lines of a formula. The error names the line and what is wrong.
func Parse(lines []string) ([]Line, error) {
	out := make([]Line, len(lines))
	for i, text := range lines {
		l, err := parseLine(text)
		if err != nil {
			return nil, fmt.Errorf("line %d, %q: %w", i+1, text, err)
		}
		out[i] = l
	}
	return out, nil
}

func parseLine(text string) (Line, error) {
	l := Line{Text: text}
	if strings.HasPrefix(text, "(") {
		return l, nil
	}
	said, _, _ := strings.Cut(text, "; ")
	name, rest, ok := strings.Cut(said, " = ")
	if !ok {
		return l, fmt.Errorf("it gives nothing: NAME = VALUE is wanted")
	}
	l.Name = name
	rest, err := l.readSearch(rest)
	if err != nil {
		return l, err
	}
	for _, part := range strings.Split(rest, ", else ") {
		w, err := parseWay(part)
		if err != nil {
			return l, err
		}
		l.ways = append(l.ways, w)
	}
	return l, nil
}

// readSearch takes the search off the end of a line, if it has one.
func (l *Line) readSearch(text string) (rest string, err error) {
	m, least := leastForm.FindStringSubmatch(text), true
	if m == nil {
		m, least = highestForm.FindStringSubmatch(text), false
	}
	if m == nil {
		return text, nil
	}
	l.search = &search{of: m[2], least: least}
	if l.search.left, err = parseExpression(m[3]); err != nil {
		return "", err
	}
	l.search.right, err = parseExpression(m[4])
	return m[1], err
}

func parseWay(text string) (w way, err error) {
	switch given, word := givenForm.FindStringSubmatch(text), wordForm.FindStringSubmatch(text); {
	case given != nil:
		text, w.given = given[1], given[2]
	case word != nil:
		text, w.not, w.is, w.word = word[1], word[2] == "unless", word[3], word[4]
	}
	w.value, err = parseExpression(text)
	return w, err
}

// parser reads one expression from left to right.
type parser struct {
	text string
	err  error
}

func parseExpression(text string) (node, error) {
	p := parser{text: text}
	n := p.sum()
	p.space()
	if p.err == nil && p.text != "" {
		p.fail("%q is left over", p.text)
	}
	return n, p.err
}

func (p *parser) fail(form string, args ...any) {
	if p.err == nil {
		p.err = fmt.Errorf(form, args...)
	}
}

func (p *parser) space() { p.text = strings.TrimLeft(p.text, " ") }

// take reads one of several signs; empty when none is next.
func (p *parser) take(signs ...string) string {
	p.space()
	for _, s := range signs {
		if rest, ok := strings.CutPrefix(p.text, s); ok {
			p.text = rest
			return s
		}
	}
	return ""
}

func (p *parser) sum() node {
	left := p.product()
	for {
		switch p.take("+", "−", "-") {
		case "":
			return left
		case "+":
			left = binary{'+', left, p.product()}
		default:
			left = binary{'-', left, p.product()}
		}
	}
}

func (p *parser) product() node {
	left := p.signed()
	for {
		switch p.take("·", "/") {
		case "":
			return left
		case "·":
			left = binary{'*', left, p.signed()}
		default:
			left = binary{'/', left, p.signed()}
		}
	}
}

func (p *parser) signed() node {
	if p.take("−", "-") != "" {
		return binary{'-', number(0), p.signed()}
	}
	return p.power()
}

// superscripts are the powers that stand as a raised digit.
var superscripts = map[string]number{"²": 2, "³": 3, "⁴": 4}

func (p *parser) power() node {
	base := p.primary()
	for s := p.take("²", "³", "⁴"); s != ""; s = p.take("²", "³", "⁴") {
		base = binary{'^', base, superscripts[s]}
	}
	if p.take("^") != "" {
		return binary{'^', base, p.signed()}
	}
	return base
}

func (p *parser) primary() node {
	switch p.take("(", "|", "√") {
	case "(":
		return p.closed(p.sum(), ")")
	case "|":
		return call{"abs", []node{p.closed(p.sum(), "|")}}
	case "√":
		return call{"√", []node{p.primary()}}
	}
	p.space()
	if r, _ := utf8.DecodeRuneInString(p.text); r >= '0' && r <= '9' {
		return p.number()
	}
	return p.named()
}

// closed wants a closing sign behind what was read.
func (p *parser) closed(n node, sign string) node {
	if p.take(sign) == "" {
		p.fail("%q is missing before %q", sign, p.text)
	}
	return n
}

var numberForm = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?(e-?[0-9]+)?`)

func (p *parser) number() node {
	digits := numberForm.FindString(p.text)
	p.text = p.text[len(digits):]
	x, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		p.fail("%q is no number", digits)
	}
	return number(x)
}

// named reads a quantity or a function with its arguments.
func (p *parser) named() node {
	end := strings.IndexFunc(p.text, func(r rune) bool { return !inName(r) })
	if end < 0 {
		end = len(p.text)
	}
	name := p.text[:end]
	if name == "" {
		p.fail("a quantity is missing before %q", p.text)
		return number(0)
	}
	p.text = p.text[end:]
	if functions[name] == nil {
		return quantity(name)
	}
	c := call{of: name}
	if p.take("(") == "" {
		p.fail("%s needs its argument in brackets", name)
		return c
	}
	for c.args = append(c.args, p.sum()); p.take(",") != ""; {
		c.args = append(c.args, p.sum())
	}
	return p.closed(c, ")")
}

// inName reports whether a rune may stand in a name: of a quantity with its indices, or of
// a key.
func inName(r rune) bool {
	return r == '_' || r == '.' || unicode.IsLetter(r) || unicode.IsDigit(r) || r >= '₀' && r <= '₉' || r == '½'
}
