// Package designfile reads and writes design files: TOML on the outside, SI in
// a design.Design on the inside.
//
// The table of keys (Keys) is the only place where a key's name, kind, range
// and meaning stand. Reading, --set, --vary, completion and explain all work
// from it. Reading is strict and reports every fault of a file at once, each
// with its line.
package designfile
