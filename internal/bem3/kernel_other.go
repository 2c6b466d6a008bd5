//go:build !amd64

package bem3

// evaluate is evaluateGo.
func evaluate(x *[3]float32, b *block, near, coupling *lanes, w *wave, slope, green *[points][2]lanes) {
	evaluateGo(x, b, near, coupling, w, slope, green)
}

// contract is contractGo.
func contract(o *outer, b *block, p *pairing, beta float32, out *rows) {
	contractGo(o, b, p, beta, out)
}

// drive is driveGo.
func drive(slope, green, q *[points][2]lanes, beta float32, sum *[2]lanes) {
	driveGo(slope, green, q, beta, sum)
}
