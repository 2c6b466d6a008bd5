// Package layers holds the test that data flows one way between the packages.
package layers

import (
	"os/exec"
	"strings"
	"testing"
)

// forbidden lists the packages of the project that each layer must not reach,
// directly or not.
var forbidden = map[string][]string{
	"gapline/driver":            {"gapline/waveguide", "gapline/cabinet", "gapline/plots", "gapline/internal/designfile"},
	"gapline/waveguide":         {"gapline/cabinet", "gapline/plots", "gapline/internal/designfile"},
	"gapline/cabinet":           {"gapline/plots", "gapline/internal/designfile"},
	"gapline/internal/document": {"gapline/driver", "gapline/waveguide", "gapline/cabinet", "gapline/internal/designfile"},
	"gapline/plots":             {"gapline/driver", "gapline/waveguide", "gapline/cabinet", "gapline/internal/designfile"},
}

// libraries are the packages that physics must not know, and plots either but
// for the drawing one.
var libraries = []string{"github.com/BurntSushi/toml", "github.com/spf13/cobra", "gonum.org/v1/plot"}

func TestDataFlowsOneWay(t *testing.T) {
	for pkg, banned := range forbidden {
		out, err := exec.Command("go", "list", "-deps", pkg+"/...").Output()
		if err != nil {
			t.Fatalf("go list -deps %s: %v", pkg, err)
		}
		for _, dep := range strings.Fields(string(out)) {
			for _, b := range banned {
				if dep == b {
					t.Errorf("%s reaches %s", pkg, dep)
				}
			}
			for _, l := range libraries {
				draws := pkg == "gapline/plots" || pkg == "gapline/internal/document"
				if strings.HasPrefix(dep, l) && !(draws && l == "gonum.org/v1/plot") {
					t.Errorf("%s reaches %s", pkg, dep)
				}
			}
		}
	}
}
