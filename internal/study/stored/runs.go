package stored

import (
	"context"
	"fmt"
	"sync"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/wavecache"
)

// Runs tells what runs of the wave level say of designs: those stored beside a design file,
// and runs of the plan section that are only held in memory. It may be used by several
// goroutines.
type Runs struct {
	file string
	mu   sync.Mutex
	held map[string]sizing.WaveSizing // by plan section and air
}

// mostHeld is how many runs are held.
const mostHeld = 256

// NewRuns returns the runs beside a design file; with an empty name there are none.
func NewRuns(file string) *Runs { return &Runs{file: file, held: map[string]sizing.WaveSizing{}} }

// PlanKey names the plan section of a design in its air; empty where it has none.
func PlanKey(d *design.Design) string {
	p, faults := section.PlanOf(d, section.ByHorn)
	if len(faults) > 0 {
		return ""
	}
	return fmt.Sprintf("%#v %#v", p, section.Air(d))
}

// Hold keeps what a run of the plan section of a design found.
func (r *Runs) Hold(d *design.Design, w sizing.WaveSizing) {
	key := PlanKey(d)
	if key == "" {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if len(r.held) >= mostHeld {
		clear(r.held)
	}
	r.held[key] = w
}

// Of returns what is known of a design; absent where nothing is.
func (r *Runs) Of(ctx context.Context, d *design.Design) sizing.WaveSizing {
	return r.with(d, wavecache.Beside(r.file).Figures(ctx, d, nil))
}

// Into adds what is known of a design to its sizing, as the function Into does.
func (r *Runs) Into(ctx context.Context, d *design.Design, s *sizing.Sizing) {
	Into(ctx, r.file, d, s, nil)
	s.Wave = r.with(d, s.Wave)
}

// with adds a run in memory to what is stored, which knows no plan section yet.
func (r *Runs) with(d *design.Design, w sizing.WaveSizing) sizing.WaveSizing {
	r.mu.Lock()
	none := len(r.held) == 0
	r.mu.Unlock()
	if none || numeric.Given(w.Pattern) {
		return w
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if h, ok := r.held[PlanKey(d)]; ok {
		w.Pattern, w.PatternFrom, w.PatternTo = h.Pattern, h.PatternFrom, h.PatternTo
		w.Narrowest, w.NarrowestAt, w.FallsTo = h.Narrowest, h.NarrowestAt, h.FallsTo
	}
	return w
}
