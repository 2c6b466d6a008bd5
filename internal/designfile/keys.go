package designfile

import (
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/filter"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/wordset"
)

// Type is the form of a key's value in the file.
type Type int

// The forms of values.
const (
	Quantity Type = iota // a string with a unit, or a plain number for quantity.Number
	Count                // a whole number
	Choice               // one of a list of words
	Text                 // free text
	List                 // a list of quantities
)

// Key is one key of the design file.
type Key struct {
	Path     string // "cabinet.height"
	Doc      string // what it is, in one sentence
	Type     Type
	Kind     quantity.Kind
	Min, Max float64 // inclusive, SI
	Choices  []string
	Words    map[string]float64 // words that stand for a value, such as "flat"

	label  string // its short name; empty: the words of the path say it
	points bool   // of a Text: one point a line

	float fl
	air   func(*design.Design) *float64 // of the air, which is always given
	count func(*design.Design) *int
	text  texts
	list  func(*design.Design) *[]float64
}

// Table returns the table that the key stands in; empty for the top.
func (k *Key) Table() string {
	if i := strings.LastIndexByte(k.Path, '.'); i >= 0 {
		return k.Path[:i]
	}
	return ""
}

// Label returns a short name of the key for people, such as "horn coverage".
func (k *Key) Label() string {
	if k.label != "" {
		return k.label
	}
	return strings.NewReplacer(".", " ", "_", " ").Replace(k.Path)
}

// called gives the key a short name where its path does not read as one.
func (k Key) called(label string) Key {
	k.label = label
	return k
}

type fl = func(*design.Design) *optional.Float

func quantityKey(path string, kind quantity.Kind, lo, hi float64, at fl, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Quantity, Kind: kind, Min: lo, Max: hi, float: at}
}

func airKey(path string, kind quantity.Kind, lo, hi float64, at func(*design.Design) *float64, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Quantity, Kind: kind, Min: lo, Max: hi, air: at}
}

func lengthKey(path string, lo, hi float64, at fl, doc string) Key {
	return quantityKey(path, quantity.Length, lo, hi, at, doc)
}

func hertzKey(path string, lo, hi float64, at fl, doc string) Key {
	return quantityKey(path, quantity.Frequency, lo, hi, at, doc)
}

func countKey(path string, lo, hi int, at func(*design.Design) *int, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Count, Kind: quantity.Number, Min: float64(lo), Max: float64(hi), count: at}
}

// choiceKey is the key of a closed set: its words are those of the set.
func choiceKey[T wordset.Member](path string, at func(*design.Design) *T, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Choice, Choices: wordset.Names[T](), text: word[T](at)}
}

// word is a choice as text.
type word[T wordset.Member] func(*design.Design) *T

func (w word[T]) get(d *design.Design) string { return (*w(d)).Name() }

func (w word[T]) set(d *design.Design, name string) { *w(d), _ = wordset.Parse[T](name) }

// texts is where a text of a design is: free, or the word of a choice.
type texts interface {
	get(*design.Design) string
	set(*design.Design, string)
}

// free is free text.
type free func(*design.Design) *string

func (f free) get(d *design.Design) string { return *f(d) }

func (f free) set(d *design.Design, s string) { *f(d) = s }

const degrees = math.Pi / 180

// Keys is the table of keys in the order in which a file is written.
var Keys = slices.Concat(topKeys, cabinetKeys, wooferKeys, boxKeys, insertKeys, hornKeys, compressionDriverKeys, foldKeys, crossoverKeys, targetKeys, driveKeys, hangingKeys, bandKeys, audienceKeys, sectionKeys, reviewKeys)

var topKeys = []Key{
	{Path: "title", Doc: "name of the design, printed on every output", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Title })},
	airKey("air.temperature", quantity.Temperature, 233.15, 333.15,
		func(d *design.Design) *float64 { return &d.Air.Temperature }, "temperature of the air; 20 degC unless given"),
	airKey("air.humidity", quantity.Fraction, 0, 1,
		func(d *design.Design) *float64 { return &d.Air.Humidity }, "relative humidity; 50 % unless given"),
	airKey("air.pressure", quantity.Pressure, 50e3, 110e3,
		func(d *design.Design) *float64 { return &d.Air.Pressure }, "static pressure; 101.325 kPa unless given"),
}

var cabinetKeys = []Key{
	lengthKey("cabinet.height", 0.03, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.Height }, "outside height of one box, along the line"),
	lengthKey("cabinet.width", 0.03, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.Width }, "outside width of one box"),
	lengthKey("cabinet.depth", 0.03, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.Depth }, "outside depth of one box"),
	lengthKey("cabinet.gap", 0, 1, func(d *design.Design) *optional.Float { return &d.Cabinet.Gap }, "distance between neighbouring boxes; 0 unless given").called("space between boxes"),
	lengthKey("cabinet.pitch", 0.03, 4, func(d *design.Design) *optional.Float { return &d.Cabinet.Pitch }, "distance from box to box; height plus gap unless given").called("pitch of the boxes"),
	countKey("line.boxes", 1, 100, func(d *design.Design) *int { return &d.Line.Boxes }, "number of boxes in the line").called("boxes in the line"),
	{Path: "line.splay", label: "splay between boxes", Doc: "angles between neighbouring boxes from the top down, boxes − 1 of them", Type: List, Kind: quantity.Angle,
		Min: -10 * degrees, Max: 30 * degrees, list: func(d *design.Design) *[]float64 { return &d.Line.Splay }},
	lengthKey("line.top_height", 0.05, 100, func(d *design.Design) *optional.Float { return &d.Line.TopHeight }, "height of the top of the line above the floor").called("height of the line's top"),
	quantityKey("line.tilt", quantity.Angle, -90*degrees, 90*degrees,
		func(d *design.Design) *optional.Float { return &d.Line.Tilt }, "tilt of the top box, positive upward").called("tilt of the top box"),
}

var wooferKeys = []Key{
	lengthKey("woofer.size", 0.02, 0.8, func(d *design.Design) *optional.Float { return &d.Woofer.Size }, "nominal diameter of the woofer"),
	lengthKey("woofer.effective_diameter", 0.01, 0.8, func(d *design.Design) *optional.Float { return &d.Woofer.EffectiveDiameter },
		"diameter of the radiating piston; 0.82 times the size unless given").called("effective diameter of the woofer"),
	countKey("woofer.per_box", 1, 16, func(d *design.Design) *int { return &d.Woofer.PerBox }, "woofers in one box; 1 unless given").called("woofers per box"),
	lengthKey("woofer.spacing", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Woofer.Spacing },
		"vertical distance between the woofers of one box; leave it out when they sit side by side at one height").called("spacing of the woofers"),
	hertzKey("woofer.fs", 5, 2000, func(d *design.Design) *optional.Float { return &d.Woofer.Fs }, "free-air resonance").called("woofer resonance fs"),
	quantityKey("woofer.qes", quantity.Number, 0.02, 50, func(d *design.Design) *optional.Float { return &d.Woofer.Qes }, "electrical Q at fs").called("woofer Qes"),
	quantityKey("woofer.qms", quantity.Number, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Woofer.Qms }, "mechanical Q at fs").called("woofer Qms"),
	quantityKey("woofer.vas", quantity.Volume, 1e-5, 10, func(d *design.Design) *optional.Float { return &d.Woofer.Vas }, "volume of air as stiff as the suspension").called("woofer Vas"),
	quantityKey("woofer.re", quantity.Resistance, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Woofer.Re }, "voice-coil resistance").called("woofer resistance Re"),
	quantityKey("woofer.le", quantity.Inductance, 0, 0.1, func(d *design.Design) *optional.Float { return &d.Woofer.Le }, "voice-coil inductance").called("woofer inductance Le"),
	quantityKey("woofer.sd", quantity.Area, 1e-4, 1, func(d *design.Design) *optional.Float { return &d.Woofer.Sd }, "area of the radiating piston").called("woofer piston area Sd"),
	lengthKey("woofer.xmax", 1e-4, 0.1, func(d *design.Design) *optional.Float { return &d.Woofer.Xmax }, "one-way excursion limit").called("woofer excursion limit"),
	quantityKey("woofer.bl", quantity.ForceFactor, 0.1, 100, func(d *design.Design) *optional.Float { return &d.Woofer.Bl }, "force factor").called("woofer force factor Bl"),
	quantityKey("woofer.mms", quantity.Mass, 1e-4, 2, func(d *design.Design) *optional.Float { return &d.Woofer.Mms }, "moving mass with air load").called("woofer moving mass Mms"),
	quantityKey("woofer.power", quantity.Power, 0.1, 20e3, func(d *design.Design) *optional.Float { return &d.Woofer.Power }, "thermal power limit").called("woofer power limit"),

	lengthKey("mid.size", 0.01, 0.5, func(d *design.Design) *optional.Float { return &d.Mid.Size }, "nominal diameter of the mid drivers"),
	lengthKey("mid.effective_diameter", 0.005, 0.5, func(d *design.Design) *optional.Float { return &d.Mid.EffectiveDiameter },
		"diameter of the radiating piston; 0.82 times the size unless given").called("effective diameter of the mids"),
	countKey("mid.per_box", 1, 32, func(d *design.Design) *int { return &d.Mid.PerBox }, "mid drivers in one box; 1 unless given").called("mids per box"),
	lengthKey("mid.spacing", 0.005, 3, func(d *design.Design) *optional.Float { return &d.Mid.Spacing }, "vertical distance between the mids of one box").called("spacing of the mids"),
	hertzKey("mid.lowest", 20, 10e3, func(d *design.Design) *optional.Float { return &d.Mid.Lowest }, "lowest crossover frequency of the mids").called("lowest crossover of the mids"),
}

var insertKeys = []Key{
	countKey("insert.mouths", 1, 16, func(d *design.Design) *int { return &d.Insert.Mouths }, "openings in each box through which the woofers radiate").called("insert mouths per box"),
	lengthKey("insert.spacing", 0.005, 3, func(d *design.Design) *optional.Float { return &d.Insert.Spacing },
		"distance between neighbouring mouths of one box; pitch divided by mouths unless given").called("spacing of the insert's mouths"),
	lengthKey("insert.mouth_height", 0.002, 3, func(d *design.Design) *optional.Float { return &d.Insert.MouthHeight }, "height of one mouth, along the line"),
	lengthKey("insert.mouth_width", 0.002, 3, func(d *design.Design) *optional.Float { return &d.Insert.MouthWidth }, "width of one mouth"),
	lengthKey("insert.slot_depth", 0, 0.5, func(d *design.Design) *optional.Float { return &d.Insert.SlotDepth }, "thickness of the plate at the mouths"),
	quantityKey("insert.chamber_volume", quantity.Volume, 1e-7, 1, func(d *design.Design) *optional.Float { return &d.Insert.ChamberVolume },
		"air between the cones of one box and the plate"),
	lengthKey("insert.plate_width", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Insert.PlateWidth },
		"outside width of the plate; the woofer's size unless given"),
	lengthKey("insert.plate_height", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Insert.PlateHeight },
		"outside height of the plate; the cabinet's height unless given"),
}

var crossoverKeys = []Key{
	hertzKey("crossover.frequency", 20, 20e3, func(d *design.Design) *optional.Float { return &d.Crossover.Frequency }, "crossover frequency"),
	countKey("crossover.order", 1, 8, func(d *design.Design) *int { return &d.Crossover.Order }, "order of the crossover sections"),
	choiceKey("crossover.alignment", func(d *design.Design) *filter.Alignment { return &d.Crossover.Alignment }, "alignment of the crossover sections"),
}

var targetKeys = []Key{
	choiceKey("targets.coupling", func(d *design.Design) *design.Basis { return &d.Targets.Coupling },
		"basis of the gap: the half-wave rule or the lobe criterion; half-wave unless given").called("basis of the gap"),
	quantityKey("targets.lobe_level", quantity.Level, -60, -0.5, func(d *design.Design) *optional.Float { return &d.Targets.LobeLevel },
		"highest lobe allowed against the axis; -12 dB unless given").called("highest lobe allowed"),
	quantityKey("targets.gap", quantity.Octaves, -5, 5, func(d *design.Design) *optional.Float { return &d.Targets.Gap }, "widest crossover gap allowed; 0 oct unless given").called("widest gap allowed"),
	hertzKey("targets.flat_to", 100, 40e3, func(d *design.Design) *optional.Float { return &d.Targets.FlatTo }, "frequency up to which the horn's front must be flat").called("front flat up to"),
	hertzKey("targets.lowest", 5, 5e3, func(d *design.Design) *optional.Float { return &d.Targets.Lowest }, "frequency from which the line must couple; the maximum level is judged there too unless targets.level_at is given").called("coupling wanted from"),
}

// FindKey returns the key with the given path, nil when there is none.
func FindKey(path string) *Key {
	for i := range Keys {
		if Keys[i].Path == path {
			return &Keys[i]
		}
	}
	return nil
}

// keyTables returns the tables that hold keys, in order.
func keyTables() []string {
	var out []string
	for i := range Keys {
		if t := Keys[i].Table(); t != "" && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// tables returns the tables of the file in order, with the ones that have no
// entry in Keys.
func tables() []string {
	return append(keyTables(), followTable, toleranceTable, searchTable)
}

// leavesOf returns the keys of a table without its name.
func leavesOf(table string) []string {
	var out []string
	for i := range Keys {
		if k := &Keys[i]; table != "" && k.Table() == table {
			out = append(out, strings.TrimPrefix(k.Path, table+"."))
		}
	}
	return out
}

// Nearest returns the candidate most like word, or "" when none is near: a third
// of the letters may be wrong, in a longer word at least two.
func Nearest(word string, candidates []string) string {
	if len(word) > maxEdit {
		return ""
	}
	most := len(word) / 3
	if len(word) > 3 {
		most = max(most, 2)
	}
	best, bestDistance := "", most+1
	for _, c := range candidates {
		if d := editDistance(strings.ToLower(word), strings.ToLower(c)); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	return best
}

// nearestKey finds the key most like path: the same name in another table, a
// like name in the same table, or a like path.
func nearestKey(path string) string {
	var paths []string
	for i := range Keys {
		paths = append(paths, Keys[i].Path)
	}
	table, leaf, dotted := strings.Cut(path, ".")
	if !dotted {
		table, leaf = "", path
	}
	for _, p := range paths {
		if p[strings.LastIndexByte(p, '.')+1:] == leaf {
			return p
		}
	}
	if leaves := leavesOf(table); len(leaves) > 0 {
		if near := Nearest(leaf, leaves); near != "" {
			return table + "." + near
		}
		return ""
	}
	return Nearest(path, paths)
}

// maxEdit bounds the words compared; longer ones are nobody's typing error.
const maxEdit = 80

// editDistance is the Levenshtein distance with neighbouring swaps counted
// once.
func editDistance(a, b string) int {
	if len(a) > maxEdit || len(b) > maxEdit {
		return maxEdit
	}
	var rows [3][maxEdit + 1]int
	for j := range len(b) + 1 {
		rows[1][j] = j
	}
	for i := 1; i <= len(a); i++ {
		older, old, now := &rows[(i+2)%3], &rows[i%3], &rows[(i+1)%3]
		now[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(old[j]+1, now[j-1]+1, old[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], older[j-2]+1)
			}
		}
	}
	return rows[(len(a)+1)%3][len(b)]
}
