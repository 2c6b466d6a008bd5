package plots

// Words returns the texts of all pages, line by line.
func (p *Paper) Words() []string {
	var out []string
	for _, s := range p.pages {
		for _, l := range s.texts {
			out = append(out, l.text)
		}
	}
	return out
}

// Words returns every text of a picture with its title and its text alternative, which
// is what a page that shows it may be searched for.
func Words(fig Figure) ([]string, error) {
	s, err := fig.layout()
	if err != nil {
		return nil, err
	}
	out := []string{s.title, s.desc}
	for _, l := range s.texts {
		out = append(out, l.text)
	}
	return out, nil
}

// Height is how high a picture is drawn, points; 0 for one that cannot be.
func Height(fig Figure) float64 {
	s, err := fig.layout()
	if err != nil {
		return 0
	}
	return float64(s.height)
}
