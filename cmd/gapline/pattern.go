package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/source"
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
	fs.StringArrayVar(&p.given, "pattern", nil, "`WHAT` a box radiates by; aperture: ideal mouths; wave: the stored run of gapline wave --of front of this box; unless given, wave for the bands that have such a run")
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
	for _, g := range p.given {
		if g != aperturePattern && g != wavePattern {
			return fmt.Errorf("--pattern is %q: aperture or wave is needed", g)
		}
	}
	return nil
}

// patterns are those of a design's box.
func (p *patternFlag) patterns(ctx context.Context, a *app, file string, d *design.Design, withoutInsert, inWall bool) ([]source.Pattern, error) {
	if inWall || slices.Contains(p.given, aperturePattern) {
		return nil, nil
	}
	out := stored.Patterns(ctx, file, d, withoutInsert, a.warn)
	if slices.Contains(p.given, wavePattern) && len(out) == 0 {
		return nil, usageError{errors.New("--pattern wave: no stored run is of this very box: solve it first with gapline wave " + strings.TrimSpace(fileOr(file)) + " --of front, and with --drive horn for the horn")}
	}
	return out, nil
}

func fileOr(file string) string {
	if file == "" {
		return "FILE"
	}
	return file
}
