package schema

import (
	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// measuredKeys name the traces that are kept beside the design.
var measuredKeys = []Key{
	fileKey("measured.stack", func(d *design.Design) *string { return &d.Measured.Stack }, "trace of this design's stack; with measured.closer it gives the measured coupling limit"),
	fileKey("measured.closer", func(d *design.Design) *string { return &d.Measured.Closer },
		"trace, from the same place, of a stack whose mouths stand closer together: where the two part coupling ends").called("trace of a closer stack"),
	textKey("measured.stack_digest", func(d *design.Design) *string { return &d.Measured.StackDigest },
		"digest of the keys that these two depend on, as gapline trace --write gives it; the traces count as long as it holds").called("digest for the stacks"),
	fileKey("measured.axis", func(d *design.Design) *string { return &d.Measured.Axis }, "trace on the horn's axis; with measured.edge it gives the measured pattern control"),
	fileKey("measured.edge", func(d *design.Design) *string { return &d.Measured.Edge },
		"trace, at the same distance, half the horn's coverage to the side").called("trace at the edge of coverage"),
	textKey("measured.edge_digest", func(d *design.Design) *string { return &d.Measured.EdgeDigest },
		"digest of the keys that these two depend on, as gapline trace --write gives it; the traces count as long as it holds").called("digest for the horn"),
	textKey("measured.state", func(d *design.Design) *string { return &d.Measured.State }, "what the traces were taken on, where and how"),
	listKey("measured.aligned", quantity.Frequency, 5, 40e3, func(d *design.Design) *[]float64 { return &d.Measured.Aligned },
		"both ends of the band in which the stacks' levels are moved to match; as measured unless given").called("band of alignment"),
	quantityKey("measured.threshold", quantity.Level, 0.5, 20, func(d *design.Design) *optional.Float { return &d.Measured.Threshold },
		"level by which the stacks must differ to have parted").or("3 dB").called("threshold of parting"),
	countKey("measured.smoothing", 1, 48, func(d *design.Design) *int { return &d.Measured.Smoothing }, "n of the 1/n octave that traces are smoothed over").or("12").called("smoothing of traces"),
}

// fileKey is the key of a file's name.
func fileKey(path string, at func(*design.Design) *string, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Text, File: true, text: free(at)}
}

func textKey(path string, at func(*design.Design) *string, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Text, text: free(at)}
}
