package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
	"gapline/internal/study/listen"
	"gapline/internal/wav"
	"gapline/internal/wholefile"

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

const wavEnding = ".wav"

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

// stated is a state with the file that it is of.
type stated struct {
	file  *designfile.File
	state listen.State
}

// states reads both designs and what else differs.
func (f *listenFlags) states(ctx context.Context, a *app, given []string) (first, second *stated, err error) {
	one, err := f.state(&f.a)
	if err != nil {
		return nil, nil, usageError{err}
	}
	curve := f.b
	if curve.seat == "" && curve.point == "" {
		curve.seat, curve.point = f.a.seat, f.a.point
	}
	if curve.shape == "" {
		curve.shape = f.a.shape
	}
	two, err := f.state(&curve)
	if err != nil {
		return nil, nil, usageError{err}
	}
	file, err := designOrStarter(ctx, a, given)
	if err != nil {
		return nil, nil, err
	}
	other, err := f.otherFile(ctx, a, file, given)
	if err != nil {
		return nil, nil, err
	}
	if two.Words, err = f.words(&file.Design); err != nil {
		return nil, nil, usageError{err}
	}
	one.Words = "as given"
	if f.a.shape != "" {
		one.Words = f.a.shape
	}
	two.Conditions.Choice.WithoutInsert = f.otherBare || f.same()
	one.Design, two.Design = &file.Design, &other.Design
	for _, s := range []struct {
		file  *designfile.File
		state *listen.State
	}{{file, one}, {other, two}} {
		if err := f.place.hang(ctx, a, s.file, &s.state.Conditions); err != nil {
			return nil, nil, err
		}
	}
	return &stated{file, *one}, &stated{other, *two}, nil
}

// same reports whether no flag says how B differs.
func (f *listenFlags) same() bool {
	return f.against == "" && len(f.other) == 0 && f.b == stateFlags{} && !f.otherBare
}

// otherFile reads the design of B.
func (f *listenFlags) otherFile(ctx context.Context, a *app, file *designfile.File, given []string) (*designfile.File, error) {
	settings := slices.Concat(a.settings, f.other)
	if f.otherUnlink && !a.unlink {
		settings = append(settings, designfile.Unlink)
	}
	switch {
	case f.against != "":
		return a.fitted(designfile.Load(ctx, f.against, settings))
	case len(f.other) == 0:
		return file, nil
	case len(given) == 0:
		return a.fitted(designfile.LoadStarter(designfile.Starters[0].Name, settings))
	}
	return a.fitted(designfile.Load(ctx, given[0], settings))
}

// words say what B is beside A.
func (f *listenFlags) words(d *design.Design) (string, error) {
	var out []string
	if f.against != "" {
		out = append(out, cleantext.Line(filepath.Base(f.against)))
	}
	for _, s := range f.other {
		out = append(out, cleantext.Line(s))
	}
	if f.otherUnlink {
		out = append(out, "links set aside")
	}
	if f.b.shape != "" {
		out = append(out, f.b.shape)
	}
	if f.otherBare || f.same() {
		if !d.HasInsert() && f.against == "" {
			return "", errors.New("the design has no insert that B could be without: say how B differs, by --other KEY=VALUE, --other-seat, --other-point, --other-shape or --against FILE")
		}
		out = append(out, "without the insert")
	}
	if len(out) == 0 {
		return "as given", nil
	}
	return strings.Join(out, ", "), nil
}

// state reads where a state is heard and under which conditions.
func (f *listenFlags) state(s *stateFlags) (*listen.State, error) {
	var out listen.State
	var err error
	if out.Conditions, err = f.place.conditions(); err != nil {
		return nil, err
	}
	if s.shape != "" {
		if out.Conditions.Shape, err = line.ParseShape(s.shape); err != nil {
			return nil, fmt.Errorf("--shape, --other-shape: %w", err)
		}
	}
	switch {
	case s.point != "":
		x, err := parseLengths(s.point, ",", 3)
		if err != nil {
			return nil, fmt.Errorf("--point, --other-point: %w", err)
		}
		out.Seat.Point = &field.Vec{X: x[0], Y: x[1], Z: x[2]}
	case slices.Contains(listen.SeatNames, s.seat):
		out.Seat.Name = s.seat
	default:
		if out.Seat.Distance, err = quantity.Parse(s.seat, quantity.Length); err != nil {
			return nil, fmt.Errorf("--seat, --other-seat: %q: %s or a distance such as 18m is needed", s.seat, strings.Join(listen.SeatNames, ", "))
		}
	}
	return &out, nil
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

// read makes the signal or reads that of the user.
func (f *listenFlags) read(ctx context.Context) (*listen.Signal, error) {
	seconds := numeric.Absent
	if f.duration != "" {
		var err error
		if seconds, err = quantity.Parse(f.duration, quantity.Time); err != nil {
			return nil, fmt.Errorf("--duration: %w", err)
		}
	}
	if f.sound == "" {
		s, err := listen.Make(f.signal, f.rate, numeric.Or(seconds, listen.DefaultSeconds))
		if err != nil {
			return nil, fmt.Errorf("--signal, --rate, --duration: %w", err)
		}
		return s, nil
	}
	s, err := f.readSound(ctx, seconds)
	if err != nil {
		return nil, fmt.Errorf("--wav: %s: %w", f.sound, err)
	}
	return s, nil
}

func (f *listenFlags) readSound(ctx context.Context, seconds float64) (*listen.Signal, error) {
	file, err := openfile.Open(ctx, f.sound, "a WAV file")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	s, err := wav.Read(file, f.channel)
	if err != nil {
		return nil, err
	}
	return listen.Of(s, cleantext.Line(filepath.Base(f.sound)), seconds)
}

// isWAV reports whether a path is that of a sound.
func isWAV(path string) bool { return strings.EqualFold(filepath.Ext(path), wavEnding) }

// sounds lists the WAV files among the paths of -o.
func (a *app) sounds() []string {
	return slices.DeleteFunc(slices.Clone(a.outputs), func(p string) bool { return !isWAV(p) })
}

// write writes the sounds, and has the pictures drawn.
func (f *listenFlags) write(a *app, r *listen.Result, c wav.Coding, draw func(pictures []string) error) error {
	sounds, rate := a.sounds(), r.Signal.Rate
	pictures := slices.DeleteFunc(slices.Clone(a.outputs), isWAV)
	if len(sounds) > 0 {
		stem := strings.TrimSuffix(sounds[0], filepath.Ext(sounds[0]))
		for _, x := range []struct {
			wanted  bool
			path    string
			samples []float64
			coding  wav.Coding
		}{
			{true, sounds[0], r.Samples, c},
			{f.split, stem + "-a.wav", r.A.Samples, c}, {f.split, stem + "-b.wav", r.B.Samples, c},
			{f.impulse, stem + "-impulse-a.wav", r.A.Impulse, wav.Float32}, {f.impulse, stem + "-impulse-b.wav", r.B.Impulse, wav.Float32},
			{f.dry, stem + "-dry.wav", r.Signal.Samples, wav.Float32},
		} {
			if !x.wanted {
				continue
			}
			if err := f.writeSound(a, x.path, x.samples, rate, x.coding); err != nil {
				return err
			}
		}
	}
	return draw(pictures)
}

// writeSound writes one sound, but not over the one that was read.
func (f *listenFlags) writeSound(a *app, path string, samples []float64, rate int, c wav.Coding) error {
	if there, err := os.Stat(path); err == nil && f.sound != "" {
		if read, err := os.Stat(f.sound); err == nil && os.SameFile(there, read) {
			return usageError{fmt.Errorf("-o %s is the sound that --wav reads: choose another name", path)}
		}
	}
	data, err := wav.Encode(samples, rate, c)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if err := wholefile.Write(path, data); err != nil {
		return err
	}
	a.note("wrote %s: %s, %.2f s, one channel", path, c, float64(len(samples))/float64(rate))
	return nil
}
