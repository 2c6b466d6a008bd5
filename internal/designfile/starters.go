package designfile

import (
	"embed"
	"fmt"
	"strings"
)

//go:embed starters/*.toml
var starterFiles embed.FS

// Starter is a built-in design of the invented demo scenario.
type Starter struct {
	Name string
	Doc  string
}

// Starters lists the built-in designs; the first is the default.
var Starters = []Starter{
	{"hatch", "bare cones beside a horn: an open crossover gap"},
	{"hatch-insert", "woofers either side of the horn, each with a two-mouth insert, which closes it"},
	{"hatch-mids", "woofers behind the horn and a mid band beside it that close it"},
}

// StarterText returns the commented text of a built-in design.
func StarterText(name string) ([]byte, error) {
	var names []string
	for _, s := range Starters {
		names = append(names, s.Name)
		if s.Name == name {
			return starterFiles.ReadFile("starters/" + name + ".toml")
		}
	}
	return nil, fmt.Errorf("no starter is called %q: there are %s", name, strings.Join(names, ", "))
}

// LoadStarter reads a built-in design as Load reads a file.
func LoadStarter(name string, settings []string) (*File, error) {
	text, err := StarterText(name)
	if err != nil {
		return nil, err
	}
	return Parse("starter "+name, text, settings)
}
