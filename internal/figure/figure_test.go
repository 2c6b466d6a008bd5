package figure

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/quantity"
)

// Every figure says what it is, and its formula holds each symbol that its terms
// explain.
func TestFiguresAreDocumented(t *testing.T) {
	for _, d := range All() {
		for what, text := range map[string]string{
			"name": d.Name, "symbol": d.Symbol, "formula": d.Formula, "source": d.Source, "level of trust": d.Trust.Meaning(),
		} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", d.Key, what)
			}
		}
		if len(d.Terms) == 0 != d.Chosen {
			t.Errorf("%s depends on %v; chosen: %v", d.Key, d.Inputs(), d.Chosen)
		}
		for _, x := range d.Terms {
			if x.Key == d.Key {
				t.Errorf("%s is a term of itself", d.Key)
			}
			if !strings.Contains(d.Formula+strings.Join(d.Hand, "\n"), x.Symbol) {
				t.Errorf("%s: the formula has no %s, which stands for %s", d.Key, x.Symbol, x.Key)
			}
		}
	}
}

func TestKeysAreUniqueAndWellFormed(t *testing.T) {
	form := regexp.MustCompile(`^[a-z]+(\.[a-z][a-z0-9_]*)+$`)
	seen := map[string]bool{}
	for _, d := range All() {
		if !form.MatchString(d.Key) {
			t.Errorf("%q is no key: words of small letters with dots between them are", d.Key)
		}
		if seen[d.Key] {
			t.Errorf("%s stands twice", d.Key)
		}
		seen[d.Key] = true
	}
}

// A key ends in the unit of what it measures, and in no unit when that has none.
func TestKeysNameTheirUnit(t *testing.T) {
	suffix := map[quantity.Kind]string{ // levels may be weighted, or a slope
		quantity.Number: "", quantity.Fraction: "", quantity.Length: "_m", quantity.Area: "_m2", quantity.Volume: "_m3",
		quantity.Frequency: "_hz", quantity.Angle: "_deg", quantity.Time: "_s", quantity.Level: "_db", quantity.Octaves: "_oct",
		quantity.Speed: "_m_s", quantity.Density: "_kg_m3", quantity.Resistance: "_ohm", quantity.Mass: "_kg",
		quantity.Voltage: "_v", quantity.Power: "_w", quantity.Inductance: "_h", quantity.ForceFactor: "_tm",
		quantity.Compliance: "_m_n", quantity.MechLoss: "_kg_s",
	}
	for _, d := range All() {
		want, ok := suffix[d.Kind]
		got := strings.TrimPrefix(d.Key, cutUnit(d.Key))
		if d.Kind == quantity.Octaves && (strings.HasSuffix(d.Key, ".oct_range") || strings.Contains(d.Key, ".gap_oct.")) {
			got = want
		}
		if d.Kind == quantity.Level && (got == "_dba" || got == "_dbc" || got == "_db_per_doubling") {
			got = want
		}
		if !ok || strings.Replace(got, ".", "_", 1) != want {
			t.Errorf("%s measures a %v: its unit is %q, want %q", d.Key, d.Kind, got, want)
		}
	}
}

// Every figure that the package declares is in the catalogue: a variable of one, or
// of the figures of a line of mouths.
func TestDeclaredFiguresAreInTheCatalogue(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	declared := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range packageVariables(file) {
			for i, value := range spec.Values {
				key, ok := keyOf(t, value)
				if ok || spec.Names[i].IsExported() && makesOne(value) {
					declared++
				}
				if d := Find(key); ok && (d == nil || d.Key != key) {
					t.Errorf("%s: %s is declared and not in the catalogue", name, key)
				}
			}
		}
	}
	for _, f := range families {
		all := f.all()
		if len(all) != reflect.TypeOf(f).NumField() {
			t.Errorf("%s: all leaves out figures", all[0].Group())
		}
		for _, d := range all {
			if Find(d.Key) != d {
				t.Errorf("%s is declared and not in the catalogue", d.Key)
			}
		}
		declared += len(all)
	}
	if declared != len(All()) {
		t.Errorf("%d figures declared, %d in the catalogue", declared, len(All()))
	}
}

// makesOne reports whether a value is a figure that a function makes; those of families
// are called new.
func makesOne(value ast.Expr) bool {
	call, ok := value.(*ast.CallExpr)
	if !ok {
		return false
	}
	name, ok := call.Fun.(*ast.Ident)
	return !ok || !strings.HasPrefix(name.Name, "new")
}

// families are the figures that are made together, once for each thing that has them.
var families = []interface{ all() []*Def }{
	CouplingOpen, CouplingInsert, CouplingMid, WoofersAcross, MidsAcross, LineHung, CrossoverHung, LineMaximum, BoxFull, LinePolar, LineHorizontal, LineAngleMap, LineHorizontalMap, LineSeatsSeen, LineMapSeatsSeen,
	AimBefore, AimBest, AimArc, AimStraight, LowWay, HighWay, GivenSum, BestSum, GivenVertical, GivenHorizontal, BestVertical, BestHorizontal,
	HeardA, HeardB, TraceBands, PairBands, GapByRule, GapByAperture, GapByWave, GapByMeasured, MidGapByRule, MidGapByAperture,
}

// packageVariables lists a file's variables.
func packageVariables(file *ast.File) []*ast.ValueSpec {
	var out []*ast.ValueSpec
	for _, d := range file.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.VAR {
			continue
		}
		for _, s := range g.Specs {
			out = append(out, s.(*ast.ValueSpec))
		}
	}
	return out
}

// keyOf returns the key of a literal &Def{Key: "..."}; ok is false for other values.
func keyOf(t *testing.T, value ast.Expr) (key string, ok bool) {
	address, ok := value.(*ast.UnaryExpr)
	if !ok {
		return "", false
	}
	literal, ok := address.X.(*ast.CompositeLit)
	if !ok || literal.Type.(*ast.Ident).Name != "Def" {
		return "", false
	}
	for _, e := range literal.Elts {
		if kv := e.(*ast.KeyValueExpr); kv.Key.(*ast.Ident).Name == "Key" {
			key, err := strconv.Unquote(kv.Value.(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			return key, true
		}
	}
	t.Fatal("a figure without a key")
	return "", false
}

func TestFind(t *testing.T) {
	for key, want := range map[string]*Def{
		"gap.open_oct":                     GapOpen,
		"gap.open":                         GapOpen,
		"horn.narrowest":                   HornNarrowest, // the first of two with this stem
		"horn.narrowest_hz":                HornNarrowestAt,
		"coupling.insert.residual_lobe_db": CouplingInsert.FirstLobe,
		"coupling.mid.first_lobe":          CouplingMid.FirstLobe,
		"box.cost":                         BoxCost,
		"coupling.insert.first_lobe_db":    nil,
		"open_oct":                         nil,
		"":                                 nil,
	} {
		if got := Find(key); got != want {
			t.Errorf("Find(%q) = %v", key, got)
		}
	}
}

func TestWordsForValues(t *testing.T) {
	for _, c := range []struct {
		fig  *Def
		si   float64
		want string
	}{
		{CouplingOpen.FirstLobe, -200, "no lobe"},
		{CouplingInsert.FirstLobe, -99.9, ""},
		{FoldPathSpread, 0, "flat"},
		{HornSagitta, 1e-9, ""},
	} {
		if got := c.fig.Words(c.si); got != c.want {
			t.Errorf("%s of %g: %q, want %q", c.fig.Key, c.si, got, c.want)
		}
	}
}
