package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/source"
	"gapline/internal/study/polars"
	"gapline/internal/study/stored"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// patternFlag says by what a box radiates; commands that hang a stack share it.
type patternFlag struct{ given []string }

// The words of --pattern that are no folder.
const (
	aperturePattern = "aperture"
	wavePattern     = "wave"
)

func (p *patternFlag) add(fs *pflag.FlagSet) {
	fs.StringArrayVar(&p.given, "pattern", nil, "`WHAT` one box radiates by; aperture: ideal mouths; wave: the stored run of gapline wave --of front of this very box; a folder of polars of one box in both planes, as --tables writes them, or BAND=FOLDER (repeatable); unless given, wave for the bands that have such a run")
}

func (p *patternFlag) complete(cmd *cobra.Command) {
	_ = cmd.RegisterFlagCompletionFunc("pattern", cobra.FixedCompletions([]string{aperturePattern, wavePattern}, cobra.ShellCompDirectiveDefault))
}

// check refuses words that make no sense together; inWall says that each mouth stands in its own
// wall.
func (p *patternFlag) check(inWall bool) error {
	switch {
	case len(p.given) > 1 && slices.Contains(p.given, aperturePattern):
		return errors.New("--pattern aperture takes ideal mouths for all bands: leave out the other")
	case inWall && len(p.given) > 0 && p.given[0] != aperturePattern:
		return errors.New("--pattern has the box in the open: leave out --boundary baffle")
	}
	return nil
}

// folders are the folders of polars that are given, by band; empty: the whole box.
func (p *patternFlag) folders() (out [][2]string, err error) {
	for _, g := range p.given {
		if g == aperturePattern || g == wavePattern {
			continue
		}
		band, folder, named := strings.Cut(g, "=")
		switch {
		case !named:
			band, folder = "", g
		case band != source.Woofers && band != source.Mids && band != source.Horn:
			return nil, fmt.Errorf("--pattern is %q: %s, %s or %s is needed before =", g, source.Woofers, source.Mids, source.Horn)
		}
		for _, other := range out {
			if other[0] == band || other[0] == "" || band == "" {
				return nil, errors.New("--pattern: give polars of the whole box once, or those of each band once")
			}
		}
		if info, err := os.Stat(folder); err != nil || !info.IsDir() {
			return nil, fmt.Errorf("--pattern is %q: aperture, wave or a folder of polars is needed", g)
		}
		out = append(out, [2]string{band, folder})
	}
	return out, nil
}

// patterns are those of a design's box.
func (p *patternFlag) patterns(ctx context.Context, a *app, file string, d *design.Design, withoutInsert, inWall bool) ([]source.Pattern, error) {
	if inWall || slices.Contains(p.given, aperturePattern) {
		return nil, nil
	}
	folders, err := p.folders()
	if err != nil {
		return nil, usageError{err}
	}
	out := stored.Patterns(ctx, file, d, withoutInsert, a.warn)
	if slices.Contains(p.given, wavePattern) && len(out) == 0 {
		return nil, usageError{errors.New("--pattern wave: no stored run is of this very box: solve it first with gapline wave " + strings.TrimSpace(fileOr(file)) + " --of front, and with --drive horn for the horn")}
	}
	for _, f := range folders {
		one, err := polars.Load(ctx, f[1], f[0])
		if err != nil {
			return nil, usageError{fmt.Errorf("--pattern: %w", err)}
		}
		out = append(out, *one) // the last of a band is taken
	}
	return out, nil
}

func fileOr(file string) string {
	if file == "" {
		return "FILE"
	}
	return file
}
