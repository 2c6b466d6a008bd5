// Package designfile reads and writes design files: TOML on the outside, the
// schema's project, in SI, on the inside.
//
// It knows how a file is written and where in it things stand; what a key means,
// takes and is called is internal/schema's. Reading is strict and reports every
// fault of a file at once, each with its line.
package designfile
