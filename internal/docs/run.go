package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"unicode/utf8"
)

// traces is the folder of the tree whose files the documents lay over
// predictions; every document finds a copy named "measured" beside its designs.
const traces = "testdata/measured"

// A run is what the commands of one document did.
type run struct {
	folder string
	stdout []string // of each command, by its index
	stderr []string
}

// runCommands runs the document's commands in folder, which must be empty, with
// the programs of the folder bin first in the path. A command that fails is an
// error with what it printed.
func runCommands(d *document, folder, bin string) (*run, error) {
	if err := os.CopyFS(filepath.Join(folder, "measured"), os.DirFS(filepath.Join(d.root, traces))); err != nil {
		return nil, err
	}
	for _, f := range d.files {
		if err := os.WriteFile(filepath.Join(folder, f.name), []byte(f.text), 0o644); err != nil {
			return nil, err
		}
	}
	r := &run{folder: folder}
	for _, c := range d.commands {
		var stdout, stderr strings.Builder
		cmd := exec.Command("bash", "-c", c.text)
		cmd.Dir = folder
		cmd.Env = append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"))
		cmd.Stdout, cmd.Stderr = &stdout, &stderr
		if err := cmd.Run(); err != nil {
			return nil, d.errorf(c.line, "%s: %v\n%s%s", c.text, err, stdout.String(), stderr.String())
		}
		r.stdout = append(r.stdout, stdout.String())
		r.stderr = append(r.stderr, stderr.String())
	}
	return r, nil
}

// printed returns the lines of command i on standard output, or its messages
// where it printed nothing else. Spaces at the ends of lines are taken off.
func (r *run) printed(i int) []string {
	text := r.stdout[i]
	if text == "" {
		text = r.stderr[i]
	}
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	for j := range lines {
		lines[j] = strings.TrimRight(lines[j], " \t")
	}
	return lines
}

// texts returns all that was printed and every small text file in the folder.
func (r *run) texts() (string, error) {
	var all strings.Builder
	for i := range r.stdout {
		all.WriteString(r.stdout[i] + "\n" + r.stderr[i] + "\n")
	}
	err := filepath.WalkDir(r.folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		switch filepath.Ext(path) {
		case ".toml", ".csv", ".md", ".txt":
		default:
			return nil
		}
		text, err := os.ReadFile(path)
		if err == nil && utf8.Valid(text) {
			all.Write(text)
			all.WriteByte('\n')
		}
		return err
	})
	return all.String(), err
}

// buildProgram builds gapline from the tree into folder.
func buildProgram(root, folder string) error {
	cmd := exec.Command("go", "build", "-o", filepath.Join(folder, "gapline"), "./cmd/gapline")
	cmd.Dir = root
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %w\n%s", err, out)
	}
	return nil
}

// findRoot returns the nearest folder above the present one that holds go.mod.
func findRoot() (string, error) {
	folder, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder, nil
		}
		above := filepath.Dir(folder)
		if above == folder {
			return "", errors.New("no go.mod here or above; run it inside the tree")
		}
		folder = above
	}
}
