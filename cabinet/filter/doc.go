// Package filter models crossover filters, and sums a line of woofers and the
// line of horns beside it through them with their true places.
//
// Time convention e^{+jωt}: s = jf/f_c, a delay is e^{-jωτ}. Frequencies in Hz,
// delays in s, gains in dB.
//
// Sections: S. Butterworth, "On the theory of filter amplifiers", 1930; S. H.
// Linkwitz, "Active crossover networks for noncoincident drivers", JAES 24
// (1976) 2-8, which squares Butterworth sections.
package filter
