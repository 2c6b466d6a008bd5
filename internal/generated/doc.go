// Package generated makes design files for tests: from a number to the text of a file and
// what is to be expected of it. It is used by tests only.
//
// It draws over the range that the table of keys states and keeps by construction what
// values owe each other, such as mouths that stand clear of each other. It knows neither
// the reader of design files nor the checks, so that what these make of a file is their
// own.
package generated
