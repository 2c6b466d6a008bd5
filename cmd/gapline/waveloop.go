package main

import (
	"context"
	"math"
	"time"

	"gapline/internal/render/picture"
	"gapline/internal/result"
	"gapline/plots"
)

// The moving picture: frames in a period, and how long a period is shown.
const (
	frames     = 24
	loopPeriod = 1200 * time.Millisecond
)

// loop writes one period of a field, which frame describes at a phase in rad.
func (j *waveJob) loop(ctx context.Context, frame func(phase float64) result.Part) error {
	if j.animate == "" {
		return nil
	}
	var list []plots.Figure
	for i := range frames {
		list = append(list, picture.Figure(frame(2*math.Pi*float64(i)/frames), j.app.system()))
	}
	if err := plots.SaveLoop(ctx, j.animate, list, loopPeriod); err != nil {
		return err
	}
	j.app.note("wrote %s", j.animate)
	return nil
}
