package outside

// Felt is the load on the cones of the middle box, or on its horn's exit, with all boxes playing:
// mean pressure over ρc and its velocity, the mean over the cones of the box. nil: of an even
// number of boxes none is in the middle.
func (r *Result) Felt() []complex128 {
	if r.middle == nil {
		return nil
	}
	out := make([]complex128, len(r.Load))
	for f, load := range r.Load {
		for _, i := range r.middle {
			pressure := complex128(0)
			for j, z := range load[i] {
				pressure += z * r.Flow[f][j]
			}
			out[f] += pressure / r.Flow[f][i] * complex(r.Area[i]/(r.air.Density*r.air.SoundSpeed)/float64(len(r.middle)), 0)
		}
	}
	return out
}

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
