// Package stored puts into a sizing what is kept beside the design's file: figures of runs
// of the wave level, and limits of measured traces.
package stored

import (
	"context"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/study/trace"
	"gapline/internal/wavecache"
)

// Into adds what is kept beside the design file to its sizing. warn, unless nil, is told of
// what is there and is not used.
func Into(ctx context.Context, file string, d *design.Design, s *sizing.Sizing, warn func(error)) {
	s.Wave = wavecache.Beside(file).Figures(ctx, d, warn)
	s.Measured = trace.Kept(ctx, file, d, warn)
}
