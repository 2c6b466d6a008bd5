package main

import (
	"context"
	"fmt"
	"os/exec"
	"runtime"

	"gapline/internal/designfile"
	"gapline/internal/live"

	"github.com/spf13/cobra"
)

// liveFlags are the flags of the live command.
type liveFlags struct {
	port int
	open bool
}

func newLive(a *app) *cobra.Command {
	var f liveFlags
	cmd := &cobra.Command{
		Use:     "live [FILE]",
		GroupID: "ask",
		Short:   "Serve a page with sliders: the gap, the box and the formulas follow the hand",
		Long: `Serve one page to the browser of this machine and print its address: a slider for
each key that matters, a lock for each link, the frequency strip with the state before
as a dashed outline, what binds each side, the box to scale, its low end, the gap against
the key in hand, and the formula of a figure with the numbers put in. States can be undone,
kept and compared, copied as --set words and downloaded as a design file, comments kept.
The sound at the seats and the wave equation run on demand; two states can be heard.

The page is served on the loopback address only, to whoever has the address with its
token. It loads nothing from elsewhere, and nothing is written: files are saved by the
browser. A run of the wave equation on the page counts until the program ends; gapline
wave stores one. It ends with Ctrl-C or from the page. Without FILE it serves the
built-in starter.

Bounds: requests of 256 kB, 400 settings, 60 added sliders, 4 kept states, two studies at
a time.`,
		Example: `  gapline live box.toml
  gapline live box.toml --open
  gapline live --port 8040`,
		Args:              args(cobra.MaximumNArgs(1), "one design file at most"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runLive(cmd.Context(), a, given, f)
		},
	}
	cmd.Flags().IntVar(&f.port, "port", 0, "serve on `PORT`; any that is free unless given")
	cmd.Flags().BoolVar(&f.open, "open", false, "open the page in the browser")
	return cmd
}

func runLive(ctx context.Context, a *app, given []string, f liveFlags) error {
	if err := a.refuseFiles("live"); err != nil {
		return err
	}
	if a.json {
		return usageError{fmt.Errorf("live prints an address and serves a page: leave out --json; gapline size --json prints the figures")}
	}
	if f.port < 0 || f.port > 65535 {
		return usageError{fmt.Errorf("--port is %d: 0 to 65535 is needed", f.port)}
	}
	o := live.Options{Settings: a.settings, Units: a.system(), Port: f.port}
	if len(given) > 0 {
		o.File = given[0]
	} else {
		var err error
		if o.Text, err = designfile.StarterText(designfile.Starters[0].Name); err != nil {
			return err
		}
	}
	s, err := live.New(ctx, o)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintln(a.out, s.Address()); err != nil {
		return err
	}
	a.note("serving this machine only; Ctrl-C ends it")
	if f.open {
		if err := openPage(s.Address()); err != nil {
			a.note("the browser cannot be opened (%v): open the address yourself", err)
		}
	}
	a.untilStopped = true
	return s.Serve()
}

// openPage has the system open an address.
func openPage(address string) error {
	words := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if words == nil {
		words = []string{"xdg-open"}
	}
	cmd := exec.Command(words[0], append(words[1:], address)...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go cmd.Wait() // whatever the browser makes of it
	return nil
}
