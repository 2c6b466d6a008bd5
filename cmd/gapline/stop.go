package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"time"

	"gapline/internal/openfile"
	"gapline/internal/wholefile"
)

// grace is how long a command has after the first signal to end by itself: to
// finish its step, to close what it writes, to say how far it came. Most need a
// few milliseconds. With it every command ends within a second.
const grace = 700 * time.Millisecond

// tidying is how long removing unfinished files may take then, on a disk that may
// not answer.
const tidying = 100 * time.Millisecond

// await returns the exit code of a command. One that has not ended some time after
// ctx did is left where it is: it waits for a disk or for a reader that does not
// take its output.
func await(ctx context.Context, done <-chan int) int {
	select {
	case code := <-done:
		return code
	case <-ctx.Done():
	}
	select {
	case code := <-done:
		return code
	case <-time.After(grace):
	}
	tidy := make(chan struct{})
	go func() {
		wholefile.Abandon()
		close(tidy)
	}()
	select {
	case <-tidy:
	case <-time.After(tidying):
	}
	clearLine(os.Stderr)
	fmt.Fprintln(os.Stderr, stopped)
	return exitFailed
}

// stopped is what a command says last that a signal ended.
const stopped = "gapline: stopped"

// output is standard output. It remembers the first failure, which whoever writes
// may pass over, and writes nothing behind it.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.to.Write(p)
	if err != nil {
		o.err = fmt.Errorf("standard output: %w", openfile.Cause(err))
	}
	return n, o.err
}
