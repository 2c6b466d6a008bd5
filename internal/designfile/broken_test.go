package designfile

import (
	"strings"
	"testing"
)

// broken lists faulty files with every line that is reported, in order, after
// "bad.toml". The texts are what a designer reads, so they are pinned to the
// letter.
var broken = []struct {
	name, text string
	want       []string
}{
	{"unknown key", "title = \"x\"\n[cabinet]\nhieght = \"230 mm\"\n", []string{
		":3: cabinet.hieght is an unknown key (did you mean cabinet.height?)"}},
	{"unknown key, nothing near", "[cabinet]\nfoo = 1\n", []string{
		":2: cabinet.foo is an unknown key: [cabinet] takes height, width, depth, gap, pitch, rear_height, wall, edge_radius"}},
	{"key of another table", "[horn]\ntuning = \"50 Hz\"\n", []string{
		":2: horn.tuning is an unknown key (did you mean enclosure.tuning?)"}},
	{"key outside its table", "height = \"230 mm\"\n", []string{
		":1: height is an unknown key (did you mean cabinet.height?)"}},
	{"key in capitals", "[cabinet]\nHeight = \"230 mm\"\n", []string{
		":2: cabinet.Height is an unknown key (did you mean cabinet.height?)"}},
	{"key in quotes with a dot", "\"cabinet.height\" = \"230 mm\"\n", []string{
		":1: cabinet.height is one word when it stands in quotes: write it without, or under its [table]"}},
	{"unknown table", "[cabnet]\nheight = \"230 mm\"\n", []string{
		":1: cabnet is an unknown table (did you mean cabinet?)"}},
	{"unknown table, nothing near", "\n[zzz]\na = 1\n", []string{
		":2: zzz is an unknown table: the tables are air, cabinet, line, woofer, mid, enclosure, insert, horn, compression_driver, fold, crossover, targets, drive, cost, audience, measured, review, follow, tolerance, search"}},
	{"value for a table", "cabinet = 3\n", []string{
		":1: cabinet is the number 3: it is a table, write [cabinet] on a line of its own"}},
	{"list of tables", "[[cabinet]]\nheight = \"230 mm\"\n", []string{
		":1: cabinet is a list: it is a table, write [cabinet] on a line of its own"}},
	{"table for a value", "[cabinet.height]\nvalue = \"230 mm\"\n", []string{
		":1: cabinet.height is a table: a length in mm, cm, m, in, ft, between 30 mm and 3 m is needed"}},

	{"bare whole number", "[cabinet]\nheight = 230\n", []string{
		":2: cabinet.height is the bare number 230: a string with a unit is needed, in mm, cm, m, in, ft, such as \"100 mm\""}},
	{"bare number", "[air]\nhumidity = 0.5\n", []string{
		":2: air.humidity is the bare number 0.5: a string with a unit is needed, in %, such as \"50 %\""}},
	{"bare infinity", "[cabinet]\nheight = inf\n", []string{
		":2: cabinet.height is the bare number +Inf: a string with a unit is needed, in mm, cm, m, in, ft, such as \"100 mm\""}},
	{"number without a unit in quotes", "[cabinet]\nheight = \"230\"\n", []string{
		":2: cabinet.height = \"230\": 230 has no unit: a length is needed, in mm, cm, m, in, ft"}},
	{"unit of another kind", "[cabinet]\nheight = \"230 Hz\"\n", []string{
		":2: cabinet.height = \"230 Hz\": unit \"Hz\" is of a frequency: a length is needed, in mm, cm, m, in, ft"}},
	{"unknown unit", "[cabinet]\nheight = \"1 furlong\"\n", []string{
		":2: cabinet.height = \"1 furlong\": unknown unit \"furlong\": a length is needed, in mm, cm, m, in, ft"}},
	{"unit where none belongs", "[woofer]\nqes = \"0.4 Hz\"\n", []string{
		":2: woofer.qes = \"0.4 Hz\": \"Hz\": a plain number is needed here, without a unit"}},
	{"decimal comma", "[cabinet]\nheight = \"2,5 mm\"\n", []string{
		":2: cabinet.height = \"2,5 mm\": write the decimal sign as a point, not a comma"}},
	{"no number", "[cabinet]\nheight = \"tall\"\n", []string{
		":2: cabinet.height = \"tall\" does not start with a number"}},
	{"empty quantity", "[cabinet]\nheight = \"\"\n", []string{
		":2: cabinet.height = \"\": empty: a number with a unit is needed"}},
	{"infinite quantity", "[cabinet]\nheight = \"inf mm\"\n", []string{
		":2: cabinet.height = \"inf mm\" does not start with a number"}},
	{"overflowing quantity", "[cabinet]\nheight = \"1e999 mm\"\n", []string{
		":2: cabinet.height = \"1e999 mm\": \"1e999\" is not a finite number"}},
	{"NaN", "[woofer]\nqes = nan\n", []string{
		":2: woofer.qes is not a finite number"}},
	{"infinity", "[woofer]\nqes = -inf\n", []string{
		":2: woofer.qes is not a finite number"}},

	{"truth value", "[cabinet]\nheight = true\n", []string{
		":2: cabinet.height is true: a length in mm, cm, m, in, ft, between 30 mm and 3 m is needed"}},
	{"date", "[cabinet]\nheight = 2020-01-01\n", []string{
		":2: cabinet.height is a date or time: a length in mm, cm, m, in, ft, between 30 mm and 3 m is needed"}},
	{"angle missing", "[horn]\ncoverage = false\n", []string{
		":2: horn.coverage is false: an angle in deg, rad, between 1° and 175° is needed"}},
	{"text for a count", "[line]\nboxes = \"7\"\n", []string{
		":2: line.boxes is the text \"7\": a whole number from 1 to 100 is needed"}},
	{"broken count", "[line]\nboxes = 2.5\n", []string{
		":2: line.boxes is the number 2.5: a whole number from 1 to 100 is needed"}},
	{"number for text", "title = 3\n", []string{
		":1: title is the number 3: free text is needed"}},
	{"wrong choice", "[enclosure]\nkind = \"close\"\n", []string{
		":2: enclosure.kind is \"close\": one of \"closed\", \"vented\", \"passive radiator\" is needed (did you mean \"closed\"?)"}},
	{"wrong choice, nothing near", "[enclosure]\nkind = \"ported\"\n", []string{
		":2: enclosure.kind is \"ported\": one of \"closed\", \"vented\", \"passive radiator\" is needed"}},
	{"choice of another kind", "[targets]\ncoupling = 1\n", []string{
		":2: targets.coupling is the number 1: one of \"half-wave\", \"lobe\" is needed"}},
	{"word that is not one", "[fold]\nvirtual_path = \"flt\"\n", []string{
		":2: fold.virtual_path = \"flt\" does not start with a number"}},

	{"negative length", "[cabinet]\nheight = \"-230 mm\"\n", []string{
		":2: cabinet.height is -230 mm: between 30 mm and 3 m is needed"}},
	{"zero length", "[cabinet]\nheight = \"0 mm\"\n", []string{
		":2: cabinet.height is 0 mm: between 30 mm and 3 m is needed"}},
	{"absurd length", "[cabinet]\nheight = \"1 km\"\nwidth = \"27 m\"\n", []string{
		":2: cabinet.height = \"1 km\": unknown unit \"km\": a length is needed, in mm, cm, m, in, ft",
		":3: cabinet.width is 27 m: between 30 mm and 3 m is needed"}},
	{"humidity over 100 %", "[air]\nhumidity = \"101 %\"\n", []string{
		":2: air.humidity is 101 %: between 0 % and 100 % is needed"}},
	{"a little over 100 %", "[air]\nhumidity = \"100.01 %\"\n", []string{
		":2: air.humidity is 100.01 %: between 0 % and 100 % is needed"}},
	{"a hair beyond both ends", "[air]\nhumidity = \"100.0000001 %\"\n[cabinet]\npitch = \"29.9999999 mm\"\n", []string{
		":2: air.humidity is a little above 100 %: between 0 % and 100 % is needed",
		":4: cabinet.pitch is a little below 30 mm: between 30 mm and 4 m is needed"}},
	{"numbers of hundreds of digits", "[air]\ntemperature = \"1e308 degC\"\n[cabinet]\npitch = \"1e308 mm\"\n[woofer]\nqes = 1234567890.123456\n[cost]\nwoofer = 1e300\n[line]\nboxes = 9223372036854775807\n", []string{
		":2: air.temperature is 1e+308 °C: between -40 °C and 60 °C is needed",
		":4: cabinet.pitch is 1e+305 m: between 30 mm and 4 m is needed",
		":6: woofer.qes is 1.23457e+09: between 0.02 and 50 is needed",
		":8: cost.woofer is 1e+300: between 0 and 1000000000 is needed",
		":10: line.boxes is 9.22337e+18: between 1 and 100 is needed"}},
	{"digits without a unit", "[cabinet]\npitch = 123456789.123456789\nheight = \"0.123456789012345\"\n", []string{
		":2: cabinet.pitch is the bare number 1.23457e+08: a string with a unit is needed, in mm, cm, m, in, ft, such as \"1000 mm\"",
		":3: cabinet.height = \"0.123456789012345\": 0.123457 has no unit: a length is needed, in mm, cm, m, in, ft"}},
	{"below absolute zero", "[air]\ntemperature = \"-300 degC\"\n", []string{
		":2: air.temperature is -300 °C: between -40 °C and 60 °C is needed"}},
	{"no boxes", "[line]\nboxes = 0\n", []string{
		":2: line.boxes is 0: between 1 and 100 is needed"}},

	{"list expected", "[line]\nboxes = 3\nsplay = \"1 deg\"\n", []string{
		":3: line.splay is the text \"1 deg\": a list of angles in deg, rad, each between -10° and 30° is needed"}},
	{"bare number in a list", "[line]\nboxes = 3\nsplay = [\"1 deg\", 2]\n", []string{
		":3: line.splay entry 2 is the bare number 2: a string with a unit is needed, in deg, rad, such as \"90 deg\""}},
	{"splay of the wrong length", "[line]\nboxes = 4\nsplay = [\"1 deg\", \"2 deg\"]\n", []string{
		":3: line.splay has 2 angles, but line.boxes is 4: 3 are needed, one for each pair of neighbours"}},
	{"splay without boxes", "[line]\nsplay = [\"1 deg\"]\n", []string{
		":2: line.splay is given without line.boxes"}},

	{"mouths overlap", "[cabinet]\nheight = \"200 mm\"\n[insert]\nmouths = 2\nspacing = \"90 mm\"\nmouth_height = \"100 mm\"\n", []string{
		":6: insert.mouth_height is 100 mm: 2 mouths 90 mm apart (insert.spacing) may be at most 90 mm high, or those of one box overlap"}},
	{"three mouths too high", "[cabinet]\npitch = \"272 mm\"\n[insert]\nmouths = 3\nmouth_height = \"104 mm\"\n", []string{
		":5: insert.mouth_height is 104 mm: 3 mouths 90.7 mm apart (insert.spacing) may be at most 90.7 mm high, or those of one box overlap"}},
	{"three mouths as far apart as two", "[cabinet]\npitch = \"272 mm\"\n[insert]\nmouths = 3\nspacing = \"136 mm\"\nmouth_height = \"104 mm\"\n", []string{
		":6: insert.mouth_height is 104 mm: 3 mouths in a pitch of 272 mm may be at most 90.7 mm high, 90.7 mm apart (insert.spacing), or those of neighbouring boxes overlap"}},
	{"mouths reach into the next box", "[cabinet]\npitch = \"272 mm\"\n[insert]\nmouths = 3\nspacing = \"100 mm\"\nmouth_height = \"80 mm\"\n", []string{
		":5: insert.spacing is 100 mm: 3 mouths 80 mm high in a pitch of 272 mm may be at most 96 mm apart, or those of neighbouring boxes overlap"}},
	{"insert without mouths", "[cabinet]\nheight = \"200 mm\"\n[insert]\nspacing = \"90 mm\"\n", []string{
		":3: [insert] needs insert.mouths, the number of openings in each box"}},
	{"pitch against height and gap", "[cabinet]\nheight = \"230 mm\"\ngap = \"4 mm\"\npitch = \"250 mm\"\n", []string{
		":4: cabinet.pitch is 250 mm, but cabinet.height and cabinet.gap add up to 234 mm: give two of the three"}},

	{"many faults at once", "[line]\nboxes = 0\n[cabinet]\nheight = 230\nwidth = \"wide\"\nfoo = 1\n[bar]\na = 1\n[air]\nhumidity = \"150 %\"\n", []string{
		":2: line.boxes is 0: between 1 and 100 is needed",
		":4: cabinet.height is the bare number 230: a string with a unit is needed, in mm, cm, m, in, ft, such as \"100 mm\"",
		":5: cabinet.width = \"wide\" does not start with a number",
		":6: cabinet.foo is an unknown key: [cabinet] takes height, width, depth, gap, pitch, rear_height, wall, edge_radius",
		":7: bar is an unknown table: the tables are air, cabinet, line, woofer, mid, enclosure, insert, horn, compression_driver, fold, crossover, targets, drive, cost, audience, measured, review, follow, tolerance, search",
		":10: air.humidity is 150 %: between 0 % and 100 % is needed"}},

	{"open header", "\n[cabinet\nheight = \"230 mm\"\n", []string{
		":2: expected '.' or ']' to end table name, but got '\\n' instead"}},
	{"open string", "[cabinet]\nheight = \"230 mm\nwidth = \"1 mm\"\n", []string{
		":2: strings cannot contain newlines"}},
	{"key twice", "[cabinet]\nheight = \"230 mm\"\nheight = \"240 mm\"\n", []string{
		":3: key 'cabinet.height' has already been defined"}},
	{"table twice", "[cabinet]\nheight = \"230 mm\"\n[cabinet]\nwidth = \"240 mm\"\n", []string{
		":3: key 'cabinet' has already been defined"}},
	{"no quotes", "[cabinet]\nheight = 230 mm   # outside\n", []string{
		":2: a quantity stands in quotes: \"230 mm\""}},
	{"no quotes, inches", "[cabinet]\nheight = 9\"\n", []string{
		":2: a quantity stands in quotes: \"9\\\"\""}},
	{"curly quotes", "[cabinet]\nheight = “230 mm”\n", []string{
		":2: straight quotes are needed (\")"}},
	{"comma in a plain number", "[woofer]\nqes = 0,36\n", []string{
		":2: write the decimal sign as a point, not a comma"}},
	{"colon", "[cabinet]\nheight: \"230 mm\"\n", []string{
		":2: write = between key and value, not a colon"}},
	{"no value", "[cabinet]\nheight =\n", []string{
		":2: expected value but found '\\n' instead"}},

	{"empty", "", []string{": is empty (gapline new FILE writes a starter)"}},
	{"blank", " \n\t\r\n", []string{": is empty (gapline new FILE writes a starter)"}},
	{"byte order mark alone", "\uFEFF", []string{": is empty (gapline new FILE writes a starter)"}},
	{"comments only", "# a design\n# to be\n", []string{
		": gives no key: a design needs at least cabinet.height, line.boxes, horn.coverage and horn.mouth_width"}},
	{"empty table", "[cabinet]\n", []string{
		": gives no key: a design needs at least cabinet.height, line.boxes, horn.coverage and horn.mouth_width"}},
	{"binary", "title = \"a\"\n\x00\x01", []string{": is not a text file: a design file is TOML in UTF-8"}},
	{"not UTF-8", "title = \"\xe9t\xe9\"\n", []string{": is not a text file: a design file is TOML in UTF-8"}},
	{"deep list", "a = " + strings.Repeat("[", 100), []string{
		":1: lists, tables or dotted keys go deeper than 32 levels: a design file has tables of keys only"}},
	{"deep key", "\n\na" + strings.Repeat(".a", 100) + " = 1", []string{
		":3: lists, tables or dotted keys go deeper than 32 levels: a design file has tables of keys only"}},
}

func TestBrokenFiles(t *testing.T) {
	for _, c := range broken {
		f, err := Parse("bad.toml", []byte(c.text), nil)
		if err == nil {
			t.Errorf("%s: accepted as %+v", c.name, f.Design)
			continue
		}
		want := "bad.toml" + strings.Join(c.want, "\nbad.toml")
		if err.Error() != want {
			t.Errorf("%s:\ngot\n%v\nwant\n%s", c.name, err, want)
		}
	}
}

// A BOM and Windows line ends change neither the reading nor the lines.
func TestByteOrderMarkAndCRLF(t *testing.T) {
	text := "title = \"x\"\n[cabinet]\nheight = \"230 mm\" # tall\ngap = \"4 mm\"\n"
	windows := "\uFEFF" + strings.ReplaceAll(text, "\n", "\r\n")
	f, err := Parse("ok.toml", []byte(windows), nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Design.Pitch(); got != 0.234 {
		t.Errorf("pitch = %v, want 0.234", got)
	}
	_, err = Parse("bad.toml", []byte(strings.Replace(windows, "4 mm", "4", 1)), nil)
	want := `bad.toml:4: cabinet.gap = "4": 4 has no unit: a length is needed, in mm, cm, m, in, ft`
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// A file that is wrong all over is reported in part, and the rest counted.
func TestProblemsAreBounded(t *testing.T) {
	text := strings.Repeat("\n[cabinet]", 1) + "\n"
	for i := range 50 {
		text += "k" + strings.Repeat("x", i+5) + " = 1\n"
	}
	_, err := Parse("bad.toml", []byte(text), nil)
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != maxProblems+1 || lines[maxProblems] != "bad.toml: and 20 more" {
		t.Errorf("%d lines, the last %q", len(lines), lines[len(lines)-1])
	}
}
