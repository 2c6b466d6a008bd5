// Package layers holds the test that data flows one way between the packages.
package layers

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// The layers that others must not reach, as paths in the module or of libraries; a
// path stands for the packages under it too.
var (
	libraries = []string{"github.com/BurntSushi/toml", "github.com/spf13/cobra", "gonum.org/v1/plot"}
	renderers = []string{"internal/render", "internal/review", "internal/document", "plots", "cmd"}
	judges    = slices.Concat([]string{"internal/advice"}, renderers)
	studies   = slices.Concat([]string{"internal/study"}, judges)
	words     = slices.Concat([]string{"internal/check", "internal/figure", "internal/result", "internal/schema", "internal/designfile"}, studies, libraries)
	uses      = slices.Concat([]string{"cabinet/section", "cabinet/source", "cabinet/surface"}, words)
	cabinets  = slices.Concat([]string{"cabinet"}, words)
	physics   = slices.Concat([]string{"driver", "waveguide"}, cabinets)
)

// forbidden lists for every package of the module the layers that it must not
// reach, directly or not. Packages come in the order in which data flows.
var forbidden = map[string][]string{
	"internal/air":       physics,
	"internal/bem":       physics,
	"internal/bem3":      physics,
	"internal/cleantext": physics,
	"internal/wordset":   physics,
	"internal/clinalg":   physics,
	"internal/dxf":       physics,
	"internal/formula":   physics,
	"internal/hankel":    physics,
	"internal/measured":  physics,
	"internal/numeric":   physics,
	"internal/optional":  physics,
	"internal/openfile":  physics,
	"internal/parallel":  physics,
	"internal/part":      physics,
	"internal/planemesh": physics,
	"internal/preferred": physics,
	"internal/programme": physics,
	"internal/quantity":  physics,
	"internal/reftable":  physics,
	"internal/search":    physics,
	"internal/signal":    physics,
	"internal/special":   physics,
	"internal/spread":    physics,
	"internal/texttable": physics,
	"internal/trimesh":   physics,
	"internal/wav":       physics,
	"internal/wholefile": physics,
	"internal/layers":    physics,
	"internal/docs":      physics,

	"internal/exposure": physics,

	"driver":              slices.Concat([]string{"waveguide"}, cabinets),
	"waveguide":           cabinets,
	"waveguide/wave":      cabinets,
	"internal/cutfile":    cabinets,
	"cabinet/design":      slices.Concat([]string{"cabinet/sizing"}, uses),
	"internal/generated":  slices.Concat([]string{"internal/designfile", "internal/check", "internal/result", "cabinet/sizing"}, studies, libraries),
	"internal/designtest": slices.Concat([]string{"cabinet/sizing"}, uses),
	"cabinet/sizing":      uses,
	"cabinet/field":       slices.Concat([]string{"cabinet/design", "cabinet/sizing"}, uses),
	"cabinet/filter":      slices.Concat([]string{"cabinet/design", "cabinet/sizing"}, uses),
	"cabinet/layout":      slices.Concat([]string{"cabinet/sizing"}, uses),
	"cabinet/pattern":     slices.Concat([]string{"cabinet/design", "cabinet/sizing", "cabinet/outside"}, uses),
	"cabinet/section":     words,
	"cabinet/source":      words,
	"cabinet/surface":     words,
	"cabinet/outside":     words,
	"internal/wavecache":  slices.Concat([]string{"internal/figure", "internal/result", "internal/schema", "internal/designfile"}, studies, libraries),

	"internal/figure":          physics,
	"internal/result":          physicsBut("internal/figure"),
	"internal/render/machine":  physicsBut("internal/figure", "internal/result", "internal/render"),
	"internal/render/terminal": physicsBut("internal/figure", "internal/result", "internal/render"),
	"internal/render/rows":     physicsBut("internal/figure", "internal/result", "internal/render"),
	"internal/render/picture":  slices.Concat(physicsBut("internal/figure", "internal/result", "internal/render", "plots"), libraries[:2]),
	"internal/render/page":     slices.Concat(physicsBut("internal/figure", "internal/result", "internal/render", "plots", "internal/document"), libraries[:2]),

	"internal/check":        slices.Concat([]string{"internal/figure", "internal/result", "internal/schema", "internal/designfile"}, studies, libraries),
	"internal/schema":       slices.Concat([]string{"cabinet/sizing", "cabinet/section", "cabinet/source", "internal/check", "internal/result", "internal/designfile"}, studies, libraries),
	"internal/designfile":   slices.Concat(studies, libraries[1:]),
	"internal/study/box":    slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/fold":   slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/fit":    slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/horn":   slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/size":   slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/listen": slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/line":   slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/polars": slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/space":  slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/stored": slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/trace":  slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/study/wave":   slices.Concat([]string{"internal/designfile"}, judges, libraries),
	"internal/advice":       slices.Concat(renderers, libraries),
	"internal/describe":     slices.Concat([]string{"internal/designfile"}, renderers, libraries),

	"internal/study/maximum": slices.Concat([]string{"internal/designfile"}, judges, libraries),

	"plots":             slices.Concat(physicsBut("plots"), libraries[:2]),
	"internal/document": slices.Concat(physicsBut("plots", "internal/document"), libraries[:2]),
	"internal/review":   {"cmd", "github.com/spf13/cobra"},
	"internal/live":     {"cmd", "internal/review", "internal/document", "github.com/spf13/cobra"},
	"cmd/gapline":       nil,
}

// exceptions are the arrows that run the wrong way today, with the reason; the test
// fails for one that is not needed any more.
var exceptions = map[string]string{
	"cabinet/source -> internal/check": "the woofers' circuit comes from check.BoxSetup, and what the insert lacks is noted in keys",
}

// leaves are the packages that reach no others of the module but those named.
var leaves = map[string][]string{"internal/figure": {"internal/quantity"}}

// physicsBut is physics without some layers and without the libraries.
func physicsBut(but ...string) []string {
	return slices.DeleteFunc(slices.Clone(physics), func(layer string) bool {
		return slices.Contains(but, layer) || slices.Contains(libraries, layer)
	})
}

// list returns the packages that go list prints, without the module's name.
func list(t *testing.T, args ...string) []string {
	t.Helper()
	out, err := exec.Command("go", append([]string{"list"}, args...)...).Output()
	if err != nil {
		t.Fatalf("go list %s: %v", strings.Join(args, " "), err)
	}
	pkgs := strings.Fields(string(out))
	for i := range pkgs {
		pkgs[i] = strings.TrimPrefix(pkgs[i], "gapline/")
	}
	return pkgs
}

func TestDataFlowsOneWay(t *testing.T) {
	all := list(t, "gapline/...")
	for pkg := range forbidden {
		if !slices.Contains(all, pkg) {
			t.Errorf("%s has an entry and is no package", pkg)
		}
	}
	needed := map[string]bool{}
	for _, pkg := range all {
		banned, ok := forbidden[pkg]
		if !ok {
			t.Errorf("%s has no entry: say which layers it must not reach", pkg)
			continue
		}
		for _, dep := range list(t, "-deps", "gapline/"+pkg) {
			for _, b := range banned {
				if dep == pkg || dep != b && !strings.HasPrefix(dep, b+"/") {
					continue
				}
				if arrow := pkg + " -> " + b; exceptions[arrow] != "" {
					needed[arrow] = true
				} else {
					t.Errorf("%s reaches %s", pkg, dep)
				}
			}
		}
	}
	for arrow := range exceptions {
		if !needed[arrow] {
			t.Errorf("%s is excepted and does not occur", arrow)
		}
	}
}

func TestLeaves(t *testing.T) {
	for pkg, reaches := range leaves {
		for _, dep := range list(t, "-deps", "-f", "{{if .Module}}{{.ImportPath}}{{end}}", "gapline/"+pkg) {
			if dep != pkg && !slices.Contains(reaches, dep) {
				t.Errorf("%s reaches %s", pkg, dep)
			}
		}
	}
}
