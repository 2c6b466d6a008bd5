// Command docs keeps README.md and the documents of docs/ true. It runs every
// command of every document in an empty folder with the program of this tree,
// and compares what the documents quote and show with what comes out:
//
//   - a fenced block marked sh holds commands, one a line; lines that start with
//     "gapline " run, in order, in one folder for each document;
//   - a fenced block below a comment <!-- file: NAME --> is a file that the reader
//     saves, and is in the folder before the first command runs, as is a copy of
//     testdata/measured named "measured";
//   - a fenced block below a comment
//     <!-- output: COMMAND -->  or  <!-- output: COMMAND :: SELECTOR... -->
//     quotes what the last run of COMMAND above it printed, all of it or the lines
//     selected: /RE/ takes every line that matches, /RE/+N the first that matches
//     and N more, /RE/../RE/ the lines from the first match up to, and without, the
//     next match of the second;
//   - a picture in docs/pictures is the file of that name that a command of the
//     document wrote;
//   - a quantity in the prose, such as 637 Hz, must stand in what the document's
//     commands printed or in a text file they wrote, or in a comment
//     <!-- known: ... --> that says where else it comes from, or in a comment
//     <!-- derived: A = B - C --> (or B / C) of two that do.
//
// With -update it rewrites quoted blocks and pictures; quantities in the prose are
// for a person to mend, and are named with file and line.
//
//	go generate ./internal/docs     rewrite the blocks and the pictures
//	go run ./internal/docs          compare, exit with 1 on any difference
package main

//go:generate go run . -update
