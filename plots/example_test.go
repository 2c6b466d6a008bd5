package plots_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"gapline/plots"
)

// Where do the woofers couple, and where does the horn take over?
func ExampleStrip() {
	strip := plots.Strip{
		Caption: plots.Caption{Title: "Coupling and pattern control", Design: "invented design", Trust: "rule"},
		Groups: []plots.StripGroup{{
			Rows: []plots.StripRow{
				{Label: "woofers couple", From: 225, To: 675},
				{Label: "horn holds its pattern", From: 1400, To: math.Inf(1)},
			},
			Window: &plots.StripWindow{Low: 675, High: 1400, Label: "gap 1.05 oct"},
		}},
	}
	var svg bytes.Buffer
	if err := plots.WriteSVG(&svg, "strip", strip); err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range strings.Split(svg.String(), "\n") {
		if strings.HasPrefix(line, "<title") || strings.HasPrefix(line, "<desc") {
			fmt.Println(line)
		}
	}
	// Output:
	// <title id="strip-title">Coupling and pattern control</title>
	// <desc id="strip-desc">woofers couple 225 Hz to 675 Hz; horn holds its pattern from 1.4 kHz; gap 1.05 oct. invented design · trust: rule. gapline predicted.</desc>
}

// Which file endings are there?
func ExampleSave() {
	dir, err := os.MkdirTemp("", "plots")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	err = plots.Save(filepath.Join(dir, "gap.bmp"), plots.Lever{})
	fmt.Println(strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), ""))
	// Output: picture gap.bmp has the ending ".bmp": use one of .png, .svg, .pdf
}
