package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	update := flag.Bool("update", false, "rewrite quoted blocks and pictures")
	program := flag.String("program", "", "folder of the program gapline; built from the tree unless given")
	flag.Parse()
	if err := check(*program, *update); err != nil {
		fmt.Fprintln(os.Stderr, "docs: error:", err)
		os.Exit(1)
	}
}

// check goes through all documents and prints what is wrong. bin is the folder of
// the program; empty, it is built.
func check(bin string, update bool) error {
	root, err := findRoot()
	if err != nil {
		return err
	}
	if bin == "" {
		if bin, err = os.MkdirTemp("", "gapline-bin-"); err != nil {
			return err
		}
		defer os.RemoveAll(bin)
		if err := buildProgram(root, bin); err != nil {
			return err
		}
	}
	if bin, err = filepath.Abs(bin); err != nil {
		return err
	}
	docs, err := readDocuments(root)
	if err != nil {
		return err
	}
	errs := checkStill(docs)
	for _, d := range docs {
		found := checkRun(d, bin, update)
		fmt.Printf("%s: %d commands, %d quotes, %d pictures, %d faults\n",
			d.path, len(d.commands), len(d.quotes), len(d.images), len(found))
		errs = append(errs, found...)
	}
	errs = append(errs, checkFolder(root, docs, update)...)
	for _, e := range errs {
		fmt.Fprintln(os.Stderr, e)
	}
	if len(errs) > 0 {
		return fmt.Errorf("%d faults; go generate ./internal/docs rewrites blocks and pictures, the prose is yours", len(errs))
	}
	return nil
}
