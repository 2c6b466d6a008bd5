package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"
)

// progress shows how far long work has come, on standard error when that is a
// terminal, and only once the work has taken a while.
type progress struct {
	w     io.Writer
	what  string
	total int
	start time.Time
	last  time.Time
	shown bool
}

// Work shorter than quietTime shows no progress; the line changes at most every
// refresh.
const (
	quietTime = time.Second
	refresh   = 200 * time.Millisecond
)

// newProgress returns a progress for total steps, or one that shows nothing.
func (a *app) newProgress(what string, total int) *progress {
	f, ok := a.err.(*os.File)
	if a.quiet || !ok || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	return &progress{w: f, what: what, total: total, start: time.Now()}
}

// at says that done steps are behind.
func (p *progress) at(done int) {
	if p.w == nil || done%min(64, p.total/64+1) != 0 {
		return
	}
	p.show(done)
}

// of says that done steps of a total that grows are behind.
func (p *progress) of(done, total int) {
	if p.w == nil {
		return
	}
	p.total = total
	p.show(done)
}

func (p *progress) show(done int) {
	now := time.Now()
	if now.Sub(p.start) < quietTime || now.Sub(p.last) < refresh {
		return
	}
	p.last, p.shown = now, true
	fmt.Fprintf(p.w, "\r%s: %d of %d (%d %%)", p.what, done, p.total, 100*done/max(p.total, 1))
}

// to says how far one part of the work is; total is 0 where its end is not known.
func (p *progress) to(what string, done, total int) {
	if p.w == nil {
		return
	}
	now := time.Now()
	if now.Sub(p.start) < quietTime || now.Sub(p.last) < refresh {
		return
	}
	p.last, p.shown = now, true
	if total == 0 {
		fmt.Fprintf(p.w, emptyLine+"%s: %d tried", what, done)
		return
	}
	fmt.Fprintf(p.w, emptyLine+"%s: %d %%", what, 100*done/total)
}

// end clears the line.
func (p *progress) end() {
	if p.shown {
		fmt.Fprint(p.w, emptyLine)
	}
}

// emptyLine takes a terminal back to an empty line.
const emptyLine = "\r\033[K"

// clearLine takes what a progress left off a terminal.
func clearLine(f *os.File) {
	if term.IsTerminal(int(f.Fd())) {
		fmt.Fprint(f, emptyLine)
	}
}
