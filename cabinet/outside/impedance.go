package outside

// Impedance is Load over ρc and the area of a cone or exit of the set that moves: mean pressure on a cone
// of set i over ρc times the velocity of each cone of set j, [frequency][i][j].
func (r *Result) Impedance() [][][]complex128 {
	out := make([][][]complex128, len(r.Load))
	for f, load := range r.Load {
		out[f] = make([][]complex128, len(load))
		for i, row := range load {
			for j, z := range row {
				out[f][i] = append(out[f][i], z*complex(r.Area[j]/(r.air.Density*r.air.SoundSpeed), 0))
			}
		}
	}
	return out
}
