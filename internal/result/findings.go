package result

// Severity says what a finding asks of the reader.
type Severity uint8

// The severities, most urgent first.
const (
	Misfit        Severity = iota // what is given cannot be built together
	Divided                       // one level of trust meets a target, another does not
	Unknown                       // whether a target is met hangs on a missing figure
	Missed                        // a target is not met
	Met                           // a target is met
	Try                           // a change that would mend a miss
	Contradiction                 // what is given contradicts itself
	Note                          // worth knowing
	Caution                       // can hurt people
	severityCount
)

// severities hold each one's name in JSON, its sign on the screen and its label in
// documents.
var severities = [severityCount]struct{ name, sign, label string }{
	Misfit:        {"misfit", "MISFIT", "Misfit"},
	Divided:       {"divided", "DIVIDED", "Divided"},
	Unknown:       {"unknown", "UNKNOWN", "Unknown"},
	Missed:        {"miss", "MISSED", "Missed"},
	Met:           {"met", "MET", "Met"},
	Try:           {"advice", "  try", "Try"},
	Contradiction: {"contradiction", "CLASH", "Contradiction"},
	Note:          {"note", "note", "Note"},
	Caution:       {"caution", "CAUTION", "Caution"},
}

// String returns the name in JSON.
func (s Severity) String() string { return severities[s].name }

// Sign returns what stands in front of the finding on the screen.
func (s Severity) Sign() string { return severities[s].sign }

// Label returns the severity's name in documents.
func (s Severity) Label() string { return severities[s].label }

// Judges reports whether the finding judges a target.
func (s Severity) Judges() bool { return s == Divided || s == Unknown || s == Missed || s == Met }

// Finding is one sentence about a design.
type Finding struct {
	Severity Severity
	Key      string // figure or design-file key that it is about
	Text     Text
	// Detail marks what a row of the screen says already, for readers who want it in
	// words.
	Detail bool
}

// Findings are sentences about a design.
type Findings struct {
	Shown
	Key  string // in JSON; empty: "findings"
	List []Finding
	Bare bool // in JSON an array of the texts alone
}

// Prose is text for people, a paragraph each.
type Prose struct {
	Shown
	Indent string // of every line
	Hang   string // further indent of the lines after the first
	AsIs   bool   // lines are not wrapped
	// Marks stand in front of the paragraphs, such as letters of designs, where
	// there are any; the lines after the first begin under the text.
	Marks []string
	Texts []Text
}
