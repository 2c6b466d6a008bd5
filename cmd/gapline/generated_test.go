package main

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/metrics"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"gapline/cabinet/design"
	"gapline/internal/generated"
)

// generatedCommand is a command line that generated designs go through.
type generatedCommand struct {
	args  string // DESIGN is the file
	every uint64 // it runs on one in so many designs, by what it costs
	table bool   // it prints a table as CSV
	draws bool   // it draws a picture
	// writes are the endings of the other files that it writes.
	writes []string
	// of is where in its JSON figures stand under their own names.
	of string
	// gives tells that a design gives what the command needs; nil: any does.
	gives func(d *design.Design) bool
	// except are parts of messages with which it may fail on a design that gives it all.
	except []string
	// most are the mouths of a stack that an ordinary run gives it; 0: any number.
	most int
}

// Bounds of one command on one generated design: far over what the slowest takes on two
// cores that others share, far under what a designer would call hung; and live objects in
// bytes, half of the largest bound that a command states.
const (
	generatedTime   = 2 * time.Minute
	generatedMemory = 2 << 30
)

var generatedCommands = []generatedCommand{
	{args: "size DESIGN", every: 1, table: true, draws: true},
	{args: "size DESIGN --all --units inch", every: 2},
	{args: "compare DESIGN DESIGN --all", every: 3, table: true, draws: true, of: "designs"},
	{args: "sweep DESIGN --vary air.temperature=0degC,30degC --unlink", every: 3, table: true, draws: true},
	{args: "explain gap.open_oct DESIGN", every: 3},
	{args: "draw DESIGN", every: 2, draws: true, writes: []string{"dxf"}},
	{args: "horn DESIGN", every: 4, table: true, draws: true, gives: givesHorn},
	{args: "horn DESIGN --view map", every: 9, table: true, draws: true, gives: givesHorn},
	{args: "fold DESIGN", every: 2, draws: true, writes: []string{"dxf", "csv"}, gives: givesFold, except: []string{"cannot be", "does not fit", "no fold"}},
	{args: "box DESIGN --per-octave 2", every: 5, table: true, draws: true, most: 2000},
	{args: "tolerance DESIGN --samples 20", every: 7, table: true, draws: true, of: "figures"},
	{args: "trace DESIGN trace.txt", every: 7, table: true, draws: true, most: 2000},
	{args: "crossover DESIGN --without-best --frequencies 500Hz,1kHz", every: 11, table: true, gives: givesCrossovers, most: 400},
	{args: "line DESIGN --frequencies 250Hz,2kHz", every: 17, table: true, most: 200},
	{args: "wave DESIGN --from 200Hz --to 400Hz --count 2", every: 13, table: true, gives: givesPlan, except: []string{"horn.coverage of", "deep together", "flat front", "not less than horn.mouth_width", "unknowns", "horn.profile", "nothing is left for side walls"}},
	{args: "wave DESIGN --of fold --from 200Hz --to 400Hz --count 2", every: 7, table: true, gives: (*design.Design).HasFold, except: []string{"cannot be solved", "unknowns"}},
	{args: "wave DESIGN --of front --from 50Hz --to 100Hz --count 2", every: 19, table: true, gives: givesFront, except: []string{"cannot be built", "unknowns", "is needed"}},
	{args: "search DESIGN --designs 100", every: 23, table: true, most: 100, except: []string{"can be built", "can exist"}},
	{args: "listen DESIGN --other horn.gain=3dB --point 5m,0m,1m --duration 100ms", every: 29, most: 50},
	{args: "line DESIGN --aim --frequencies 500Hz", every: 31, gives: func(d *design.Design) bool { return len(d.Audience.Start) > 0 }, most: 50},
	{args: "report DESIGN", every: 37, except: []string{"cannot be built"}, most: 50},
}

func givesHorn(d *design.Design) bool {
	return d.Horn.MouthWidth.Given() && d.Horn.Coverage.Given()
}

func givesFold(d *design.Design) bool { return d.Fold.Layer.Given() && d.Horn.MouthHeight.Given() }

func givesPlan(d *design.Design) bool {
	return givesHorn(d) && d.Cabinet.Width.Given() && d.Cabinet.Depth.Given() && d.Horn.Throat.Given()
}

func givesFront(d *design.Design) bool { return givesPlan(d) && d.Cabinet.Height.Given() }

func givesCrossovers(d *design.Design) bool {
	return !d.HasMid() || d.Low.Frequency.Given() || d.Mid.Lowest.Given()
}

// mouthsOf is how many mouths the stack has, of all bands but the horn.
func mouthsOf(d *design.Design) int {
	return max(d.Line.Boxes, 1) * (max(d.Woofer.PerBox, 1)*max(d.Insert.Mouths, 1) + d.Mid.PerBox)
}

// generation runs generated designs through the commands and keeps count.
type generation struct {
	*testing.T
	long bool
	runs map[string]*generatedCount
	why  map[string][]uint64 // seeds of designs that did not reach the computation, by what was said

	generated.Case // in hand
}

// generatedCount is of one command.
type generatedCount struct {
	given, reached, all int
	slowest             time.Duration
	slowestSeed         uint64
}

// designIn is the file of the design in hand.
const designIn = "design.toml"

// Generated designs go through every command, for as long as GENERATED says, from the
// number that GENERATED_SEED says.
func TestGenerated(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	g := &generation{T: t, runs: map[string]*generatedCount{}, why: map[string][]uint64{}}
	first, designs, lasting := g.settings()
	artifacts := t.ArtifactDir()
	t.Chdir(t.TempDir())
	start, failed := time.Now(), 0
	for seed := first; seed < first+designs || time.Since(start) < lasting; seed++ {
		wrong := g.one(seed)
		if !wrong {
			continue
		}
		name := filepath.Join(artifacts, fmt.Sprintf("design-%d.toml", seed))
		if err := os.WriteFile(name, []byte(g.Text), 0o666); err != nil {
			t.Error(err)
		}
		t.Logf("design %d is in %s; again: GENERATED_SEED=%d go test ./cmd/gapline -run TestGenerated", seed, name, seed)
		if failed++; failed == 10 {
			break
		}
	}
	g.sum()
}

// settings are the first number, how many designs are made at least, and how long.
func (g *generation) settings() (first, designs uint64, lasting time.Duration) {
	designs = 16
	if s := os.Getenv("GENERATED_SEED"); s != "" {
		n, err := strconv.ParseUint(s, 10, 64)
		if err != nil {
			g.Fatalf("GENERATED_SEED: %v", err)
		}
		first, designs, g.long = n, 1, true // the one design, through all that any mode runs
	}
	if s := os.Getenv("GENERATED"); s != "" {
		d, err := time.ParseDuration(s)
		if err != nil {
			g.Fatalf("GENERATED: %v", err)
		}
		designs, lasting, g.long = 1, d, g.long || d >= 10*time.Minute
	}
	return first, designs, lasting
}

// one runs the case of a number and reports whether anything was wrong.
func (g *generation) one(seed uint64) (wrong bool) {
	inner := generation{runs: g.runs, why: g.why, long: g.long, Case: generated.New(seed)}
	ok := g.Run(fmt.Sprintf("%v %d", inner.Kind, seed), func(t *testing.T) {
		inner.T = t
		inner.files()
		switch inner.Kind {
		case generated.Nearly:
			inner.nearly()
		case generated.Hostile:
			inner.hostile()
		default:
			inner.computed()
		}
	})
	g.Case = inner.Case
	return !ok
}

// files writes the design and what lies beside it.
func (g *generation) files() {
	os.RemoveAll(".gapline-cache")
	files := map[string]string{designIn: g.Text, "trace.txt": traceText}
	maps.Copy(files, g.Files)
	for name, text := range files {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			g.Fatal(err)
		}
	}
}

// computed runs what is due on a design that can be computed.
func (g *generation) computed() {
	found := map[string]printed{}
	for i := range generatedCommands {
		cmd := &generatedCommands[i]
		due := (g.Seed/10+g.Seed%10*7)%cmd.every == 0
		if !due || cmd.gives != nil && !cmd.gives(&g.Design) || !g.long && cmd.most > 0 && mouthsOf(&g.Design) > cmd.most {
			continue
		}
		if o := g.wholly(cmd); o != nil {
			g.agree(found, cmd, o)
			g.forms(cmd)
		}
	}
	g.monotone()
	switch g.Seed % 12 {
	case 2:
		g.sliced()
	case 7:
		g.lived()
	}
}

// wholly runs a command for its JSON, twice in one of four; nil where it was not reached.
func (g *generation) wholly(cmd *generatedCommand) map[string]any {
	r := g.run(cmd, cmd.args, "--json", "--quiet")
	n := g.runs[cmd.args]
	allowed := slices.ContainsFunc(cmd.except, func(part string) bool { return strings.Contains(r.errOut, part) })
	if g.Kind == generated.Valid && !allowed {
		n.given++
		if r.code == exitDone {
			n.reached++
		} else {
			g.why[fmt.Sprintf("%s: exit %d: %.200s", cmd.args, r.code, r.errOut)] = append(g.why[fmt.Sprintf("%s: exit %d: %.200s", cmd.args, r.code, r.errOut)], g.Seed)
		}
	}
	if r.code != exitDone {
		return nil
	}
	if (g.Seed+uint64(len(cmd.args)))%4 == 0 {
		cores := runtime.GOMAXPROCS(0)
		again := g.run(cmd, cmd.args, "--json", "--quiet", "--jobs", "1")
		runtime.GOMAXPROCS(cores) // which --jobs sets for the whole process
		if timeless(again.out) != timeless(r.out) {
			g.Errorf("gapline %s prints other bytes on one core", cmd.args)
		}
	}
	o := g.decoded(cmd.args, r.out)
	g.within(cmd.args, o)
	if g.Kind == generated.Misfit && strings.HasPrefix(cmd.args, "size") {
		if v, _ := at(o, "gap.verdict"); v != "misfit" {
			g.Errorf("gapline %s: verdict %v of a box that cannot be built", cmd.args, v)
		}
	}
	return o
}

// secondsIn is the one thing in an output that is measured by the clock.
var secondsIn = regexp.MustCompile(`(?s)"seconds": ?\[[^\]]*\]`)

func timeless(out string) string { return secondsIn.ReplaceAllString(out, "") }

// forms prints and draws what a command has beside its JSON, each on some designs.
func (g *generation) forms(cmd *generatedCommand) {
	due := (g.Seed + uint64(len(cmd.args))) % 5
	switch {
	case due == 0:
		g.run(cmd, cmd.args)
	case due == 1 && cmd.table:
		g.run(cmd, cmd.args, "--csv")
	case due == 2 && cmd.draws:
		g.drawn(cmd)
	case due == 3 && len(cmd.writes) > 0:
		g.written(cmd)
	}
}

// nearly runs a file with one fault, which every command has to name with its place.
func (g *generation) nearly() {
	for i := range generatedCommands {
		cmd := &generatedCommands[i]
		if i > 0 && (g.Seed+uint64(i))%7 != 0 {
			continue
		}
		r := g.run(cmd, cmd.args, "--json")
		place := fmt.Sprintf("%s:%d: ", designIn, g.Fault.Line)
		named := slices.ContainsFunc(strings.Split(r.errOut, "\n"), func(line string) bool {
			rest, ok := strings.CutPrefix(line, place)
			return ok && strings.HasPrefix(rest, g.Fault.Key)
		})
		if r.code != exitUsage || !named {
			g.Errorf("gapline %s: exit %d on a file with %+v:\n%.600s", cmd.args, r.code, g.Fault, r.errOut)
		}
	}
}

// hostile runs a damaged file, of which only what holds of any run is expected.
func (g *generation) hostile() {
	for i := range generatedCommands {
		cmd := &generatedCommands[i]
		if cmd.every > 7 || i > 0 && (g.Seed/10+uint64(i))%3 != 0 {
			continue
		}
		if r := g.run(cmd, cmd.args, "--json"); r.code == exitDone {
			g.decoded(cmd.args, r.out)
		}
	}
}

// ran is what one run gave.
type ran struct {
	code        int
	out, errOut string
}

// run runs a command on the design in hand and holds what holds of any run.
func (g *generation) run(cmd *generatedCommand, line string, more ...string) (r ran) {
	g.Helper()
	args := append(strings.Fields(strings.ReplaceAll(line, "DESIGN", designIn)), more...)
	line = strings.Join(args, " ")
	n := g.runs[cmd.args]
	if n == nil {
		n = &generatedCount{}
		g.runs[cmd.args] = n
	}
	n.all++
	defer func() {
		if p := recover(); p != nil {
			buf := make([]byte, 8192)
			g.Errorf("gapline %s: panic: %v\n%s", line, p, buf[:runtime.Stack(buf, false)])
			r.code = exitFailed
		}
	}()
	ctx, cancel := context.WithTimeout(g.Context(), generatedTime)
	defer cancel()
	var out, errOut bytes.Buffer
	peak, start := watchMemory(), time.Now()
	r.code = run(ctx, args, &out, &errOut)
	took, most := time.Since(start), peak()
	r.out, r.errOut = out.String(), errOut.String()
	if took > n.slowest {
		n.slowest, n.slowestSeed = took, g.Seed
	}
	switch {
	case took > generatedTime:
		g.Errorf("gapline %s took %v", line, took)
	case most > generatedMemory:
		g.Errorf("gapline %s held %d MB", line, most>>20)
	case r.code > exitUsage:
		g.Errorf("gapline %s: exit %d", line, r.code)
	case r.code != exitDone && r.errOut == "":
		g.Errorf("gapline %s: exit %d without a word", line, r.code)
	}
	g.clean(line, r.out)
	g.clean(line, r.errOut)
	return r
}

// notNumbers are values that the program must not print, and what fmt writes where it was
// misused.
var notNumbers = regexp.MustCompile(`(^|[^\pL\pN_])([+-]?Inf|NaN)([^\pL\pN_]|$)|%!\w?\(`)

// echoed is a value of the file that a message repeats.
var echoed = regexp.MustCompile(`the (bare )?number ([+-]Inf|NaN)`)

// clean holds that an output has no control characters and no number that is none.
func (g *generation) clean(line, text string) {
	g.Helper()
	if why := foul(text); why != "" {
		g.Errorf("gapline %s prints %s", line, why)
	}
	text = echoed.ReplaceAllString(text, "")
	if at := notNumbers.FindStringIndex(text); at != nil {
		g.Errorf("gapline %s prints %q", line, text[max(0, at[0]-60):min(len(text), at[1]+40)])
	}
}

// watchMemory returns a function that ends the watch and returns the most bytes of live
// objects that were seen.
func watchMemory() (peak func() uint64) {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	stop, seen := make(chan struct{}), make(chan uint64)
	go func() {
		var most uint64
		tick := time.NewTicker(20 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-stop:
				seen <- most
				return
			case <-tick.C:
				metrics.Read(sample)
				most = max(most, sample[0].Value.Uint64())
			}
		}
	}()
	return func() uint64 { close(stop); return <-seen }
}

// sum prints what was run and fails where fewer than nine in ten valid designs were
// computed.
func (g *generation) sum() {
	given, reached := 0, 0
	for _, cmd := range generatedCommands {
		n := g.runs[cmd.args]
		if n == nil {
			continue
		}
		g.Logf("%5d runs, %4d of %4d valid designs computed, slowest %6.2f s (%d): %s", n.all, n.reached, n.given, n.slowest.Seconds(), n.slowestSeed, cmd.args)
		given, reached = given+n.given, reached+n.reached
		if n.given >= 20 && 10*n.reached < 9*n.given {
			g.Errorf("gapline %s computed only %d of %d valid designs", cmd.args, n.reached, n.given)
		}
	}
	for _, also := range []string{"merge", "live"} {
		if n := g.runs[also]; n != nil {
			g.Logf("%5d runs: %s", n.all, also)
		}
	}
	if given >= 50 && 10*reached < 9*given {
		g.Errorf("of %d runs on valid designs only %d reached the computation", given, reached)
	}
	for _, w := range slices.Sorted(maps.Keys(g.why)) {
		g.Logf("%d (%d, …): %s", len(g.why[w]), g.why[w][0], w)
	}
}

// traceText is a measured response, flat but for a slope.
var traceText = func() string {
	var b strings.Builder
	for f := 20.0; f < 20e3; f *= 1.06 {
		fmt.Fprintf(&b, "%.3f %.4f\n", f, 90+f/1e4)
	}
	return b.String()
}()
