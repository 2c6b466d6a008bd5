package main

import (
	"context"
	"fmt"
	"gapline/internal/cleantext"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/quantity"
	"gapline/internal/study/listen"
	"gapline/internal/wav"
	"gapline/internal/wholefile"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

const wavEnding = ".wav"

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
