//go:build man

package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// Under the build tag man the program is another one: it writes the man pages and the
// shell completions of gapline into a folder, so that what makes them is not in the
// program that is shipped.
//
//	go run -tags man ./cmd/gapline FOLDER
//
// SOURCE_DATE_EPOCH, in seconds, dates the pages; GAPLINE_VERSION names the version.
func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: go run -tags man ./cmd/gapline FOLDER")
		os.Exit(exitUsage)
	}
	if err := writePages(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "gapline:", err)
		os.Exit(exitFailed)
	}
}

// writePages writes man1 and completions under a folder.
func writePages(folder string) error {
	if name := os.Getenv("GAPLINE_VERSION"); name != "" {
		version = name
	}
	seconds, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64)
	if err != nil {
		return fmt.Errorf("SOURCE_DATE_EPOCH is %q: seconds are needed, as git log -1 --format=%%ct prints", os.Getenv("SOURCE_DATE_EPOCH"))
	}
	date := time.Unix(seconds, 0).UTC()
	root := newRoot(&app{out: io.Discard, err: io.Discard})
	root.DisableAutoGenTag = true // its date is that of the run
	root.InitDefaultCompletionCmd()
	pages := filepath.Join(folder, "man1")
	if err := os.MkdirAll(pages, 0o777); err != nil {
		return err
	}
	header := &doc.GenManHeader{Title: "GAPLINE", Section: "1", Date: &date, Source: "gapline " + version, Manual: "gapline"}
	if err := doc.GenManTree(root, header, pages); err != nil {
		return err
	}
	return writeCompletions(root, filepath.Join(folder, "completions"))
}

// writeCompletions writes the completions of every shell under the names that the shells
// look for.
func writeCompletions(root *cobra.Command, folder string) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for name, write := range map[string]func(io.Writer) error{
		"gapline.bash": func(w io.Writer) error { return root.GenBashCompletionV2(w, true) },
		"_gapline":     root.GenZshCompletion,
		"gapline.fish": func(w io.Writer) error { return root.GenFishCompletion(w, true) },
		"gapline.ps1":  root.GenPowerShellCompletionWithDesc,
	} {
		f, err := os.Create(filepath.Join(folder, name))
		if err != nil {
			return err
		}
		if err := write(f); err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
	}
	return nil
}
