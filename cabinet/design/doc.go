// Package design is the record of one line-array box and the stack it stands in,
// and what follows from it by geometry and by counting. It judges nothing.
package design
