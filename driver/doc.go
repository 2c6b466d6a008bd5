// Package driver models one loudspeaker driver and the box behind it: its
// radiation as a piston, its Thiele-Small parameters, and its enclosure as an
// acoustic circuit; then the stack of such boxes, coupled through the air, and
// the front insert as an acoustic filter.
//
// Conventions. Time factor e^{+jωt}, outgoing waves e^{−jkr}. Voltages are rms,
// displacements and air speeds are peak values, pressures are complex rms
// amplitudes on the axis referred to 1 m in half space, and levels are dB re
// 20 µPa. A NaN field means "not given" or "does not exist".
//
//	quantity                      symbol  unit
//	acoustic impedance            Za      Pa·s/m³
//	acoustic mass                 Ma      kg/m⁴
//	acoustic compliance           Ca      m³/Pa
//	volume velocity               U       m³/s
//	wave number                   k       1/m
//
// Models and their limits. The box is a lumped network: it holds while the
// wavelength is long against the cabinet. Radiation is that of rigid pistons in
// an infinite rigid wall. Small-signal parameters are constant; heating of the
// voice coil (power compression), suspension stiffening and port turbulence are
// not modelled.
//
// Sources. R. H. Small, "Direct-radiator loudspeaker system analysis", JAES 20
// (1972) 383-395; "Closed-box loudspeaker systems", JAES 20 (1972) 798-808;
// "Vented-box loudspeaker systems", JAES 21 (1973) 363-372 and following parts;
// "Passive-radiator loudspeaker systems", JAES 22 (1974) 592-601. A. N. Thiele,
// "Loudspeakers in vented boxes", JAES 19 (1971) 382-392, 471-483. R. L.
// Pritchard, "Mutual acoustic impedance between radiators in an infinite rigid
// plane", JASA 32 (1960) 730-737.
package driver
