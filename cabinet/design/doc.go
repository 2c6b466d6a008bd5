// Package design is the record of one line-array box and the stack it stands in, and
// what follows from it by geometry and by counting: pitch, length of the line, spacing
// of an insert's mouths, number of drivers and crossover points, the box as package
// driver takes it and the fold as package waveguide takes it. It judges nothing and
// knows neither files nor keys.
//
// All values are SI; angles are in rad. What is not given stays out of every formula:
// a result that needs it does not exist either. Closed sets (enclosure kinds, profiles,
// alignments, bases) are types whose zero value is "not given" and whose default a
// method gives.
package design
