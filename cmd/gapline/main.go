//go:build !man

// Command gapline computes the crossover gap of line-array loudspeaker boxes
// and everything around it. See README.md.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	// A reader of standard output that goes away is an error of writing, as a full
	// disk is, and ends the program the same way.
	signal.Ignore(syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// The first signal ends the work cleanly; a second one ends the program.
	context.AfterFunc(ctx, stop)
	done := make(chan int, 1)
	go func() { done <- run(ctx, os.Args[1:], os.Stdout, os.Stderr) }()
	os.Exit(await(ctx, done))
}
