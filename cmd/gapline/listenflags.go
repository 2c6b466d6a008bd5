package main

import (
	"context"
	"errors"
	"fmt"
	"gapline/internal/quantity"
	"gapline/internal/study/listen"
	"gapline/internal/wav"

	"github.com/spf13/cobra"
)

// listenFlags are the flags of the listen command.
type listenFlags struct {
	a, b          stateFlags
	against       string
	other         []string
	otherBare     bool
	otherUnlink   bool
	place         placeFlags
	signal        string
	sound         string
	channel       int
	rate          int
	duration      string
	match         bool
	peak, pause   string
	format        string
	split         bool
	impulse, dry  bool
	rateIsGiven   bool
	signalIsGiven bool
}

// stateFlags say where a state is heard and how its stack is curved.
type stateFlags struct{ seat, point, shape string }

func (f *listenFlags) add(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.a.seat, "seat", "front", "`SEAT` of A, and of B unless it has its own: front, middle, back, or a distance such as 18m")
	fs.StringVar(&f.a.point, "point", "", "listen at `X,Y,Z` in place of a seat: forward, left, above the ground")
	fs.StringVar(&f.a.shape, "shape", "", "`CURVE` of A in place of line.splay, and of B unless it has its own: straight, arc:ANGLE or progressive:ANGLE")
	fs.StringArrayVar(&f.other, "other", nil, "in B use `KEY=VALUE` in place of the file's value (repeatable)")
	fs.StringVar(&f.against, "against", "", "B is the design in `FILE`")
	fs.BoolVar(&f.otherBare, "other-without-insert", false, "B has the bare cones; so it has when nothing else differs")
	fs.BoolVar(&f.otherUnlink, "other-unlink", false, "set the [follow] links aside in B: what --other changes moves nothing else")
	fs.StringVar(&f.b.seat, "other-seat", "", "`SEAT` of B")
	fs.StringVar(&f.b.point, "other-point", "", "B listens at `X,Y,Z`")
	fs.StringVar(&f.b.shape, "other-shape", "", "`CURVE` of B")
	fs.StringVar(&f.signal, "signal", listen.SignalNames()[0], "`SIGNAL`: iec (noise with the programme spectrum of IEC 60268-1), pink, or clicks")
	fs.StringVar(&f.sound, "wav", "", "play the sound in `FILE` in place of a signal")
	fs.IntVar(&f.channel, "channel", 0, "`CHANNEL` of --wav, from 1; needed where it has several")
	fs.IntVar(&f.rate, "rate", listen.DefaultRate, "sample rate of the signal in `HZ`; --wav has its own")
	fs.StringVar(&f.duration, "duration", "", "`TIME` of the signal, 6 s unless given; of --wav as much is played, the whole unless given")
	fs.BoolVar(&f.match, "match", false, "bring both to the same A-weighted level; else their difference is kept")
	fs.StringVar(&f.peak, "peak", "-1dB", "true `PEAK` of the louder one, re full scale")
	fs.StringVar(&f.pause, "pause", "1s", "`TIME` between A and B")
	fs.StringVar(&f.format, "format", wav.CodingNames()[0], "`CODING` of the samples: 24 (bit, with dither) or float (32 bit)")
	fs.BoolVar(&f.split, "split", false, "write A and B to files of their own as well: NAME-a.wav, NAME-b.wav")
	fs.BoolVar(&f.impulse, "impulse", false, "write both impulse responses as float: NAME-impulse-a.wav, NAME-impulse-b.wav")
	fs.BoolVar(&f.dry, "dry", false, "write the signal as it goes in, as float: NAME-dry.wav")
	fs.StringVar(&f.place.boundary, "boundary", "free", "`HOW` the mouths stand; free: mouths in the open; baffle: each mouth in its own wall")
	fs.Float64Var(&f.place.ground, "ground", 0, "`REFLECTION` of the floor: 0 none, 1 rigid")
	fs.StringVar(&f.place.absorption, "absorption", "auto", "`WHETHER` air absorbs: on, off, or auto (it does)")
	f.place.pattern.add(fs)
	f.place.pattern.complete(cmd)
	fixed := func(flag string, words ...string) {
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	fixed("boundary", "free", "baffle")
	fixed("absorption", "auto", "on", "off")
	fixed("seat", listen.SeatNames...)
	fixed("other-seat", listen.SeatNames...)
	fixed("signal", listen.SignalNames()...)
	fixed("format", wav.CodingNames()...)
	_ = cmd.RegisterFlagCompletionFunc("other", completeSetting)
	_ = cmd.RegisterFlagCompletionFunc("against", completeDesignFiles)
	_ = cmd.RegisterFlagCompletionFunc("wav", cobra.FixedCompletions([]string{"wav"}, cobra.ShellCompDirectiveFilterFileExt))
}

// request reads what is played and how it is written.
func (f *listenFlags) request(ctx context.Context, a *app) (r listen.Request, c wav.Coding, err error) {
	if err := f.together(a); err != nil {
		return r, c, err
	}
	r.Match = f.match
	if c, err = wav.ParseCoding(f.format); err != nil {
		return r, c, fmt.Errorf("--format: %w", err)
	}
	if r.Peak, err = quantity.Parse(f.peak, quantity.Level); err != nil {
		return r, c, fmt.Errorf("--peak: %w", err)
	}
	if !(r.Peak >= -60 && r.Peak <= -0.1) {
		return r, c, fmt.Errorf("--peak is %q: -60 dB to -0.1 dB is needed", f.peak)
	}
	if r.Pause, err = quantity.Parse(f.pause, quantity.Time); err != nil {
		return r, c, fmt.Errorf("--pause: %w", err)
	}
	if !(r.Pause >= 0 && r.Pause <= 10) {
		return r, c, fmt.Errorf("--pause is %q: 0 s to 10 s is needed", f.pause)
	}
	r.Signal, err = f.read(ctx)
	return r, c, err
}

// together refuses flags that need or exclude each other.
func (f *listenFlags) together(a *app) error {
	sounds := a.sounds()
	switch {
	case len(sounds) > 1:
		return fmt.Errorf("-o names %d WAV files: one is needed; --split writes A and B to files of their own", len(sounds))
	case len(sounds) == 0 && (f.split || f.impulse || f.dry):
		return errors.New("--split, --impulse and --dry need -o NAME.wav")
	case f.sound != "" && (f.rateIsGiven || f.signalIsGiven):
		return errors.New("--wav is the signal and has its own rate: leave out --signal and --rate")
	case f.otherUnlink && len(f.other) == 0:
		return errors.New("--other-unlink needs --other KEY=VALUE")
	case f.sound == "" && f.channel != 0:
		return errors.New("--channel needs --wav")
	case f.channel < 0:
		return fmt.Errorf("--channel is %d: channels count from 1", f.channel)
	case f.b.seat != "" && f.b.point != "":
		return errors.New("--other-seat and --other-point exclude each other")
	}
	return nil
}
