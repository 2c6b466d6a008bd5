package main

import (
	"context"
	"errors"
	"fmt"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/study/listen"

	"github.com/spf13/cobra"
)

func newListen(a *app) *cobra.Command {
	var f listenFlags
	cmd := &cobra.Command{
		Use:     "listen [FILE]",
		GroupID: "field",
		Short:   "Write what a seat would hear in two states of a design, as WAV files",
		Long: `Make the sound of two states of a design at a seat. A is the design as given; B is
the same without its insert, or with whatever the flags --other... change, or another
file. The impulse response of the whole stack, boxes, crossover, splay and air from
20 Hz to 20 kHz, is applied to a signal: noise with the spectrum of programme, pink
noise, clicks, or a WAV file of yours (16, 24 or 32 bit, or float). -o FILE.wav holds
A, a pause, then B, at one gain for both, so that their level difference is kept, unless
--match brings both to the same A-weighted level. The louder true peak (ITU-R BS.1770)
is --peak. -o with .svg, .png or .pdf draws both responses and their difference.

Each state matches its bands to each other at the crossover, so that the horn may play at
another level in B; it says so, and --other horn.gain evens it out. --csv prints both
responses, with notches finer than line --point has them.

Turn the volume down before you play a file.`,
		Example: `  gapline listen box.toml -o ab.wav
  gapline listen box.toml --other cabinet.gap=60mm --other-unlink -o spaced.wav
  gapline listen box.toml --other-without-insert --other horn.gain=6dB -o even.wav
  gapline listen box.toml --other-shape straight --seat back -o curve.wav
  gapline listen box.toml --other-seat back --match -o seats.wav
  gapline listen bare.toml --against insert.toml --wav speech.wav -o speech-ab.wav
  gapline listen box.toml --format float --impulse --dry -o ab.wav
  gapline listen box.toml --csv`,
		Annotations:       map[string]string{filesAnnotation: wavEnding},
		Args:              args(cobra.MaximumNArgs(1), "one design file at most"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			f.rateIsGiven, f.signalIsGiven = cmd.Flags().Changed("rate"), cmd.Flags().Changed("signal")
			return runListen(cmd.Context(), a, &f, given)
		},
	}
	f.add(cmd)
	return cmd
}

func runListen(ctx context.Context, a *app, f *listenFlags, given []string) error {
	request, coding, err := f.request(ctx, a)
	if err != nil {
		return usageError{err}
	}
	first, second, err := f.states(ctx, a, given)
	if err != nil {
		return err
	}
	var places [2]*listen.Place
	for i, s := range []*stated{first, second} {
		if places[i], err = listen.Open(s.state); err != nil {
			return lineError(s.file, err)
		}
	}
	r, err := listen.Compare(ctx, places[0], places[1], request)
	switch {
	case errors.Is(err, listen.ErrNoCommonLevel):
		return usageError{fmt.Errorf("%w (--match)", err)}
	case err != nil:
		return lineError(first.file, err)
	}
	described := describe.Listen(r, advice.ListenFindings(r))
	if err := a.print(described, f.printed(a)...); err != nil {
		return err
	}
	return f.write(a, r, coding, func(pictures []string) error {
		a.outputs = pictures
		return a.picture(described, describe.ListenView)
	})
}

func (f *listenFlags) printed(a *app) []string {
	if a.csv {
		return []string{describe.ListenView}
	}
	return []string{describe.Always}
}
