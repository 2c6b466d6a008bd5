package main

import (
	"fmt"

	"gapline/internal/programme"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
	"gapline/internal/study/maximum"

	"github.com/spf13/pflag"
)

// addSignal adds the flags of the programme that largest levels are worked out for.
func addSignal(fs *pflag.FlagSet, spectrum, crest *string) {
	fs.StringVar(spectrum, "programme", programme.Spectra[0].Name, "`NAME` of the programme spectrum of the largest levels: iec (IEC 60268-1) or pink")
	fs.StringVar(crest, "crest", "", "`LEVEL` of the programme's crest factor, peak over r.m.s.; 6 dB unless given")
}

func programmeNames() []string {
	var out []string
	for _, s := range programme.Spectra {
		out = append(out, s.Name+"\t"+s.Title)
	}
	return out
}

// parseSignal reads the flags of the programme.
func parseSignal(spectrum, crest string) (maximum.Signal, error) {
	var out maximum.Signal
	var err error
	if out.Spectrum, err = programme.Find(spectrum); err != nil {
		return out, fmt.Errorf("--programme: %w", err)
	}
	if crest == "" {
		return out, nil
	}
	db, err := quantity.Parse(crest, quantity.Level)
	if err != nil {
		return out, fmt.Errorf("--crest: %w", err)
	}
	if out.Crest, err = programme.CrestOf(db); err != nil {
		return out, fmt.Errorf("--crest: %w", err)
	}
	return out, nil
}

func (f *lineFlags) signalInto(r *line.Request) error {
	var err error
	r.Signal, err = parseSignal(f.programme, f.crest)
	return err
}
