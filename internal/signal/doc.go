// Package signal holds what is done to sampled signals: noise with a spectrum, clicks,
// fades, convolution by way of the spectrum, minimum phase, and the true peak.
//
// Signals are real, full scale is ±1. A spectrum of n samples, n even, has the n/2 + 1
// values from 0 Hz to half the sample rate, of the transform Σ x[i]·e^{−j2πik/n}.
package signal
