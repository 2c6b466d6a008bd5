package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWaveStopsWhenCancelled(t *testing.T) {
	name := filepath.Join(t.TempDir(), "box.toml")
	const design = `
[cabinet]
height = "268 mm"
width = "620 mm"
depth = "430 mm"
[horn]
coverage = "85 deg"
mouth_width = "330 mm"
mouth_height = "258 mm"
throat = "36 mm"
[fold]
throat_to_wall = "110 mm"
layer = "14 mm"
`
	if err := os.WriteFile(name, []byte(design), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, flags := range []string{"--of=plan", "--of=fold", "--of=fold --view=bend", "--view=field --at=1kHz -o " + filepath.Join(filepath.Dir(name), "a.png"), "--of=fold --at=1kHz --animate a.gif"} {
		var out, errOut bytes.Buffer
		code := run(ctx, append([]string{"wave", name}, strings.Fields(flags)...), &out, &errOut)
		if code != exitFailed || errOut.String() != "gapline: stopped\n" || out.Len() > 0 {
			t.Errorf("%s: exit code %d, output %q, messages %q", flags, code, out.String(), errOut.String())
		}
	}
	if entries, _ := os.ReadDir(filepath.Dir(name)); len(entries) != 1 {
		t.Errorf("a cancelled run left %v", entries)
	}
}
