package advice

import (
	"gapline/internal/figure"
	"gapline/internal/result"
)

// SuspensionCaution stands wherever a stack is described.
const SuspensionCaution = "Rigging is not computed: boxes over people are for licensed riggers and local codes."

// LoudnessCaution stands wherever a level is printed.
const LoudnessCaution = "Such levels damage hearing; local rules decide. " + ExposureGuidance

// ExposureGuidance is what is published: NIOSH, "Criteria for a recommended
// standard: occupational noise exposure", publication 98-126, 1998; WHO, "Global
// standard for safe listening venues and events", 2022.
const ExposureGuidance = "Guidance: at work 85 dBA for 8 h, half the time per 3 dB more (NIOSH 98-126); " +
	"audiences at most 100 dB LAeq,15min (WHO 2022)."

// AmplifierCaution stands wherever a driving power is printed.
const AmplifierCaution = "Amplifiers of such power put out voltages that can kill, and so does their mains side. " +
	"Wiring and service are for qualified people under local codes."

// MeasuringCaution stands wherever measured levels are shown.
const MeasuringCaution = "Measuring at level can damage hearing: protect it, and keep to local rules on exposure."

// DesignCautions stand beside the figures of one or many designs: that of the stack
// and, where a level is among the figures, that of the level.
func DesignCautions(loud bool) []result.Finding {
	var l list
	l.add(result.Caution, "line.boxes", SuspensionCaution)
	if loud {
		l.add(result.Caution, figure.BoxMaxSPL.Key, LoudnessCaution)
	}
	return l.out
}
