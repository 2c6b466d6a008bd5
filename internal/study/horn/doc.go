// Package horn works out one horn: its widths over frequency, how the trade's rule
// stands against the aperture integral, and the load on its driver.
package horn
