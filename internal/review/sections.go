package review

import (
	"encoding/json"
	"slices"

	"gapline/internal/document"
	"gapline/internal/render/machine"
	"gapline/plots"
)

// sectionObjects are the sections of a document for programs, in its order and with its
// texts; a picture gives all texts that stand in it.
func sectionObjects(sections []document.Section) ([]*machine.Object, error) {
	out := []*machine.Object{}
	for _, s := range sections {
		blocks, err := blockObjects(s.Blocks)
		if err != nil {
			return nil, err
		}
		one := &machine.Object{}
		out = append(out, one.Set("id", s.ID).Set("title", s.Title).Set("part", s.Part.String()).Set("measured", s.Noted).Set("blocks", blocks))
	}
	return out, nil
}

func blockObjects(blocks []document.Block) ([]*machine.Object, error) {
	out := []*machine.Object{}
	for _, b := range blocks {
		o := &machine.Object{}
		switch x := b.(type) {
		case document.Heading:
			o.Set("kind", "heading").Set("text", string(x))
		case document.Text:
			o.Set("kind", "text").Set("tone", string(x.Tone)).Set("text", x.Text)
			if x.Key != "" {
				o.Set("about", x.Key)
			}
		case document.List:
			o.Set("kind", "list")
			if x.Labels != nil {
				o.Set("labels", x.Labels)
			}
			o.Set("items", append([]string{}, x.Items...))
		case document.Table:
			o.Set("kind", "table").Set("caption", x.Caption).Set("head", x.Head).Set("rows", rowObjects(x.Rows))
		case document.Beside:
			inner, err := blockObjects(append(append([]document.Block{}, x.Blocks...), x.Picture))
			if err != nil {
				return nil, err
			}
			out = append(out, inner...)
			continue
		case document.Gallery:
			for _, p := range x {
				if err := pictureObject(&out, p); err != nil {
					return nil, err
				}
			}
			continue
		case document.Picture:
			if err := pictureObject(&out, x); err != nil {
				return nil, err
			}
			continue
		}
		out = append(out, o)
	}
	return out, nil
}

func pictureObject(out *[]*machine.Object, p document.Picture) error {
	words, err := plots.Words(p.Figure)
	if err != nil {
		return err
	}
	narrow, err := plots.Words(plots.Narrow(p.Figure))
	if err != nil {
		return err
	}
	for _, w := range narrow {
		if !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	o := &machine.Object{}
	*out = append(*out, o.Set("kind", "picture").Set("id", p.ID).Set("caption", p.Caption).Set("texts", words))
	return nil
}

// rowObjects are the rows of a table: each cell its text, and where it shows a figure that
// figure's key and value.
func rowObjects(rows []document.Row) [][]*machine.Object {
	out := [][]*machine.Object{}
	for _, r := range rows {
		cells := []*machine.Object{}
		for _, c := range r.Cells {
			o := (&machine.Object{}).Set("text", c.Text)
			if c.Note != "" {
				o.Set("note", c.Note)
			}
			if c.Key != "" {
				o.Set("key", c.Key).Set("value", json.RawMessage(c.Value)).Set("of", c.In)
			}
			cells = append(cells, o)
		}
		out = append(out, cells)
	}
	return out
}
