package main

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image"
	_ "image/png"
	"io"
	"net/http"
	"os"
	"strings"
	"time"

	"gapline/internal/live"
)

// drawn has a command write its picture, as SVG, PNG or PDF, and holds that it is one.
func (g *generation) drawn(cmd *generatedCommand) {
	name := "out." + []string{"svg", "png", "pdf"}[g.Seed/5%3]
	if r := g.run(cmd, cmd.args, "-o", name); r.code == exitDone {
		g.wellFormed(cmd.args, name)
	}
}

// written has a command write the file that its own program reads: DXF or CSV.
func (g *generation) written(cmd *generatedCommand) {
	name := "out." + cmd.writes[g.Seed%uint64(len(cmd.writes))]
	if r := g.run(cmd, cmd.args, "-o", name); r.code == exitDone {
		g.wellFormed(cmd.args, name)
	}
}

// wellFormed holds that a file is whole and what its name says, and takes it away.
func (g *generation) wellFormed(args, name string) {
	g.Helper()
	line := args + " -o " + name
	data, err := os.ReadFile(name)
	if err != nil {
		g.Errorf("gapline %s: %v", line, err)
		return
	}
	os.Remove(name)
	switch name[strings.LastIndexByte(name, '.')+1:] {
	case "svg":
		g.clean(line, string(data))
		for d := xml.NewDecoder(bytes.NewReader(data)); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				g.Errorf("gapline %s: %v", line, err)
				break
			}
		}
	case "png":
		if p, _, err := image.Decode(bytes.NewReader(data)); err != nil || blank(p) {
			g.Errorf("gapline %s: %v, or one colour", line, err)
		}
	case "pdf":
		if !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
			g.Errorf("gapline %s: not a whole PDF", line)
		}
	case "dxf":
		g.clean(line, string(data))
		if !bytes.HasSuffix(bytes.TrimSpace(data), []byte("EOF")) {
			g.Errorf("gapline %s: not a whole DXF", line)
		}
	default:
		g.clean(line, string(data))
	}
}

// blank reports whether a picture is of one colour.
func blank(p image.Image) bool {
	b := p.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if p.At(x, y) != p.At(b.Min.X, b.Min.Y) {
				return false
			}
		}
	}
	return true
}

// sliced runs a sweep whole and in two parts, which merge has to join to the same bytes.
func (g *generation) sliced() {
	const line = "sweep DESIGN --vary air.temperature=0degC:40degC:5degC --unlink --csv --quiet"
	cmd := &generatedCommand{args: "merge"}
	whole := g.run(cmd, line)
	if whole.code != exitDone {
		return
	}
	for i, part := range []string{"1/2", "2/2"} {
		r := g.run(cmd, line, "--part", part)
		if err := os.WriteFile([]string{"part-1", "part-2"}[i], []byte(r.out), 0o666); err != nil {
			g.Fatal(err)
		}
	}
	if joined := g.run(cmd, "merge part-2 part-1 --quiet"); joined.out != whole.out {
		g.Errorf("two parts of gapline %s joined are not the whole: %s", line, joined.errOut)
	}
}

// lived has the page served and asks it for the state of the file: its gap is that of size.
func (g *generation) lived() {
	ctx, cancel := context.WithTimeout(g.Context(), generatedTime)
	defer cancel()
	s, err := live.New(ctx, live.Options{File: designIn})
	if err != nil {
		g.Errorf("live: %v", err)
		return
	}
	if g.runs["live"] == nil {
		g.runs["live"] = &generatedCount{}
	}
	g.runs["live"].all++
	ended := make(chan error, 1)
	go func() { ended <- s.Serve() }()
	ask := func(path string, question map[string]any) map[string]any {
		body, _ := json.Marshal(question)
		r, err := http.Post(s.Address()+path, "application/json", bytes.NewReader(body))
		if err != nil {
			g.Errorf("live: %s: %v", path, err)
			return nil
		}
		defer r.Body.Close()
		data, err := io.ReadAll(r.Body)
		if err != nil || r.StatusCode != http.StatusOK {
			g.Errorf("live: %s: %v, status %d", path, err, r.StatusCode)
			return nil
		}
		return g.decoded("live "+path, string(data))
	}
	start := time.Now()
	text := ask("start", map[string]any{})["text"]
	a := ask("state", map[string]any{"text": text, "inHand": "air.temperature"})
	if took := time.Since(start); took > generatedTime {
		g.Errorf("live took %v", took)
	}
	if pictures, ok := a["pictures"].(map[string]any); ok {
		for name, svg := range pictures {
			g.clean("live "+name, svg.(string))
		}
	}
	o := g.decoded("size", g.run(&generatedCommands[0], "size DESIGN", "--json", "--quiet").out)
	key, _ := a["gapKey"].(string)
	want, _ := at(o, key)
	var got any
	if err := json.Unmarshal([]byte(a["gapValue"].(string)), &got); err != nil || got != want {
		g.Errorf("live shows %s = %v where size --json has %v (%v)", key, got, want, err)
	}
	cancel()
	if err := <-ended; err != nil && !errors.Is(err, context.Canceled) {
		g.Errorf("live: %v", err)
	}
}
