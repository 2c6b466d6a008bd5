// Package driver models one loudspeaker driver and the box behind it: its
// radiation as a piston, its Thiele-Small parameters, and its enclosure as an
// acoustic circuit.
package driver
