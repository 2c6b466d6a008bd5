// Command mutate changes one constant, operator or comparison of a package at a time and
// asks whether the package's own tests notice.
//
//	go run ./.ci/mutate [-sample N] [-seed S] [-jobs J] PACKAGE...
//
// without packages it takes those of the physics and geometry. A mutant that does not
// compile does not count; one that keeps the tests busy for long counts as noticed. The tree
// is not touched: go test takes each mutant by an overlay. Mutants that mean the same as the
// program are listed in equivalent.txt beside this file, a line each, with tabs between: file,
// the line of the program, what was changed (with #2 for the second such on the line), and the
// reason. README.md beside it has the figures.
package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// physics are the packages of physics and geometry.
var physics = []string{"driver", "waveguide", "waveguide/wave", "cabinet/design", "cabinet/layout", "cabinet/sizing", "cabinet/field", "cabinet/filter",
	"cabinet/section", "cabinet/source", "cabinet/surface", "cabinet/pattern", "internal/air", "internal/bem", "internal/clinalg", "internal/hankel", "internal/special",
	"internal/numeric", "internal/planemesh", "internal/signal", "internal/programme", "internal/exposure"}

// mutant is one change: the bytes from At to End of a file replaced.
type mutant struct {
	pkg, file string
	at, end   int
	with      string
	line      int
	text      string // of the line, without blanks at its ends
	was       string
	nth       int // of the same change on the line, from 1
}

func (m *mutant) String() string {
	return fmt.Sprintf("%d\t%s", m.line, m.key())
}

// swaps are the operators and what stands in for each.
var swaps = map[token.Token][]string{
	token.ADD: {"-"}, token.SUB: {"+"}, token.MUL: {"/"}, token.QUO: {"*"}, token.REM: {"*"},
	token.LSS: {"<=", ">"}, token.LEQ: {"<", ">"}, token.GTR: {">=", "<"}, token.GEQ: {">", "<"},
	token.EQL: {"!="}, token.NEQ: {"=="}, token.LAND: {"||"}, token.LOR: {"&&"},
	token.ADD_ASSIGN: {"-="}, token.SUB_ASSIGN: {"+="}, token.MUL_ASSIGN: {"/="}, token.QUO_ASSIGN: {"*="},
}

// mutantsOf lists the changes to one file.
func mutantsOf(pkg, file string) ([]mutant, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, file, text, 0)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(string(text), "\n")
	var out []mutant
	seen := map[string]int{} // by line and change
	add := func(pos token.Pos, length int, with string) {
		p := set.Position(pos)
		was := string(text[p.Offset : p.Offset+length])
		same := fmt.Sprintf("%d %s %s", p.Line, was, with)
		seen[same]++
		out = append(out, mutant{nth: seen[same], pkg: pkg, file: file, at: p.Offset, end: p.Offset + length, with: with, line: p.Line,
			text: strings.TrimSpace(lines[p.Line-1]), was: was})
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BinaryExpr:
			for _, with := range swaps[x.Op] {
				add(x.OpPos, len(x.Op.String()), with)
			}
		case *ast.AssignStmt:
			for _, with := range swaps[x.Tok] {
				add(x.TokPos, len(x.Tok.String()), with)
			}
		case *ast.UnaryExpr:
			if x.Op == token.SUB || x.Op == token.NOT {
				add(x.OpPos, 1, " ")
			}
		case *ast.BasicLit:
			if with := otherNumber(x); with != "" {
				add(x.Pos(), len(x.Value), with)
			}
		}
		return true
	})
	return out, nil
}

// otherNumber is what stands in for a constant: one more for a whole number, one in a hundred
// more for another.
func otherNumber(x *ast.BasicLit) string {
	switch x.Kind {
	case token.INT:
		if n, err := strconv.ParseInt(x.Value, 0, 64); err == nil {
			return strconv.FormatInt(n+1, 10)
		}
	case token.FLOAT:
		if v, err := strconv.ParseFloat(x.Value, 64); err == nil && v != 0 {
			return strconv.FormatFloat(v*1.01, 'g', -1, 64)
		}
	}
	return ""
}

// fate is what the tests made of a mutant.
type fate int

const (
	noticed fate = iota
	survived
	broken // does not compile
	stopped
)

// try runs the package's tests on a mutant.
func try(ctx context.Context, m *mutant, limit time.Duration) (fate, error) {
	dir, err := os.MkdirTemp("", "mutate-")
	if err != nil {
		return broken, err
	}
	defer os.RemoveAll(dir)
	text, err := os.ReadFile(m.file)
	if err != nil {
		return broken, err
	}
	changed := filepath.Join(dir, "mutant.go")
	if err := os.WriteFile(changed, slices.Concat(text[:m.at], []byte(m.with), text[m.end:]), 0o644); err != nil {
		return broken, err
	}
	whole, err := filepath.Abs(m.file)
	if err != nil {
		return broken, err
	}
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{whole: changed}})
	if err != nil {
		return broken, err
	}
	list := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(list, overlay, 0o644); err != nil {
		return broken, err
	}
	program := filepath.Join(dir, "mutant.test")
	build := exec.CommandContext(ctx, "go", "test", "-c", "-vet=off", "-overlay", list, "-o", program, "./"+m.pkg)
	if err := build.Run(); err != nil {
		if ctx.Err() != nil {
			return stopped, nil
		}
		return broken, nil
	}
	bounded, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	run := exec.CommandContext(bounded, program, "-test.short", "-test.failfast")
	run.Dir = m.pkg
	run.Env = append(os.Environ(), "RAPID_NOFAILFILE=true")
	run.Args = append(run.Args, "-test.timeout", limit.String())
	err = run.Run()
	switch {
	case ctx.Err() != nil:
		return stopped, nil
	case err != nil:
		return noticed, nil
	}
	return survived, nil
}

// allowed are the mutants that mean the same as the program.
func allowed() (map[string]bool, error) {
	out := map[string]bool{}
	f, err := os.Open(".ci/mutate/equivalent.txt")
	if errors.Is(err, os.ErrNotExist) {
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		parts := strings.Split(s.Text(), "\t")
		if len(parts) == 4 && !strings.HasPrefix(parts[0], "#") {
			out[strings.Join(parts[:3], "\t")] = true
		}
	}
	return out, nil
}

// key names a mutant in equivalent.txt.
func (m *mutant) key() string {
	change := m.was + " -> " + m.with
	if m.nth > 1 {
		change += fmt.Sprintf(" #%d", m.nth)
	}
	return m.file + "\t" + strings.Join(strings.Fields(m.text), " ") + "\t" + change
}

// tally counts the fates of the mutants of a package.
type tally struct{ noticed, survived, broken, allowed int }

func main() {
	sample := flag.Int("sample", 0, "try `N` mutants of each package, chosen at random; 0: all")
	seed := flag.Uint64("seed", 1, "`SEED` of the choice")
	jobs := flag.Int("jobs", 2, "mutants tried at a time")
	flag.Parse()
	if err := work(flag.Args(), *sample, *seed, *jobs); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func work(pkgs []string, sample int, seed uint64, jobs int) error {
	if len(pkgs) == 0 {
		pkgs = physics
	}
	same, err := allowed()
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var all tally
	for _, pkg := range pkgs {
		pkg = filepath.ToSlash(filepath.Clean(pkg))
		t, err := onePackage(ctx, pkg, sample, seed, jobs, same)
		if err != nil {
			return fmt.Errorf("%s: %w", pkg, err)
		}
		fmt.Printf("%-24s %s\n", pkg, t)
		all = tally{all.noticed + t.noticed, all.survived + t.survived, all.broken + t.broken, all.allowed + t.allowed}
		if ctx.Err() != nil {
			break
		}
	}
	fmt.Printf("%-24s %s\n", "all", all)
	return ctx.Err()
}

func (t tally) String() string {
	n := t.noticed + t.survived
	share := 100.0
	if n > 0 {
		share = 100 * float64(t.noticed) / float64(n)
	}
	return fmt.Sprintf("%4d noticed, %3d not, %3d equivalent, %3d do not compile: %.0f %%", t.noticed, t.survived, t.allowed, t.broken, share)
}

// onePackage tries the mutants of a package.
func onePackage(ctx context.Context, pkg string, sample int, seed uint64, jobs int, same map[string]bool) (tally, error) {
	var t tally
	files, err := filepath.Glob(filepath.Join(pkg, "*.go"))
	if err != nil {
		return t, err
	}
	var list []mutant
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") || strings.Contains(f, "_amd64") || filepath.Base(f) == "doc.go" {
			continue
		}
		ms, err := mutantsOf(pkg, f)
		if err != nil {
			return t, err
		}
		list = append(list, ms...)
	}
	if sample > 0 && sample < len(list) {
		rng := rand.New(rand.NewPCG(seed, 0))
		rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		list = list[:sample]
	}
	begun := time.Now()
	if out, err := exec.CommandContext(ctx, "go", "test", "-count=1", "-short", "./"+pkg).CombinedOutput(); err != nil {
		return t, fmt.Errorf("the tests fail as it is: %s", bytes.TrimSpace(out))
	}
	limit := max(20*time.Second, 6*time.Since(begun))
	work, results := make(chan *mutant), sync.Mutex{}
	var first error
	var wait sync.WaitGroup
	for range max(jobs, 1) {
		wait.Go(func() {
			for m := range work {
				if same[m.key()] {
					results.Lock()
					t.allowed++
					results.Unlock()
					continue
				}
				f, err := try(ctx, m, limit)
				results.Lock()
				if err != nil && first == nil {
					first = err
				}
				switch f {
				case noticed:
					t.noticed++
				case survived:
					t.survived++
					fmt.Println("not noticed:", m)
				case broken:
					t.broken++
				}
				results.Unlock()
			}
		})
	}
	for i := range list {
		if ctx.Err() != nil {
			break
		}
		work <- &list[i]
	}
	close(work)
	wait.Wait()
	return t, first
}
