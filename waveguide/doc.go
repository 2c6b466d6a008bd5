// Package waveguide models the horn beside the woofers: how low its mouth
// holds the pattern, how flat its front is, how it loads the driver, and how
// its path is folded.
package waveguide
