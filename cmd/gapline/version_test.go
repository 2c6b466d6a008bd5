package main

import (
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
)

// The forms of the build information are those of the go command: a tag, a version made
// of date and commit (go.dev/ref/mod#pseudo-versions), "+dirty" behind either where files
// were changed, "(devel)" where no commit was looked for.
func TestVersionNamesTheSource(t *testing.T) {
	const commit = "de2afaf0123456789abcdef0123456789abcdef0"
	vcs := func(changed string) []debug.BuildSetting {
		return []debug.BuildSetting{{Key: "vcs.revision", Value: commit}, {Key: "vcs.time", Value: "2026-11-29T18:00:58Z"}, {Key: "vcs.modified", Value: changed}}
	}
	for _, c := range []struct {
		of, main string
		settings []debug.BuildSetting
		want     string
	}{
		{"a tag", "v1.2.3", vcs("false"), "1.2.3"},
		{"a tag, and files changed", "v1.2.3+dirty", vcs("true"), "1.2.3-changed"},
		{"a tag before the first", "v1.0.0-rc.1", vcs("false"), "1.0.0-rc.1"},
		{"the module of a proxy", "v1.2.3", nil, "1.2.3"},
		{"a commit", "v0.0.0-20261129180058-de2afaf01234", vcs("false"), "dev-de2afaf01234"},
		{"a commit behind a tag", "v1.2.4-0.20261129180058-de2afaf01234", vcs("false"), "dev-de2afaf01234"},
		{"a commit, and files changed", "v0.0.0-20261129180058-de2afaf01234+dirty", vcs("true"), "dev-de2afaf01234-changed"},
		{"an older go command", "(devel)", vcs("true"), "dev-de2afaf01234-changed"},
		{"go run", "(devel)", nil, "dev"},
		{"go test", "", nil, "dev"},
	} {
		info := &debug.BuildInfo{GoVersion: "go1.26.8", Main: debug.Module{Path: "gapline", Version: c.main}, Settings: c.settings}
		if got := sourceVersion(info, true); got != c.want {
			t.Errorf("%s: %q, want %q", c.of, got, c.want)
		}
		text := versionText(info, true)
		if !strings.HasPrefix(text, "gapline version "+c.want+"\n") {
			t.Errorf("%s: --version prints %q", c.of, text)
		}
		if named := strings.Contains(text, "commit "+commit+" of 2026-11-29T18:00:58Z by go1.26.8"); named != (c.settings != nil) {
			t.Errorf("%s: --version prints %q", c.of, text)
		}
	}
	if got := sourceVersion(nil, false); got != "dev" {
		t.Errorf("without build information: %q, want dev", got)
	}
}

func TestVersionFlag(t *testing.T) {
	code, out, _ := gapline("--version")
	if want := "for " + runtime.GOOS + "/" + runtime.GOARCH + "\n"; code != exitDone || !strings.HasPrefix(out, "gapline version dev\n") || !strings.HasSuffix(out, want) {
		t.Errorf("--version: exit code %d and %q, want version dev and %q", code, out, want)
	}
}
