package main

import (
	"fmt"
	"runtime/debug"
	"strings"
)

// version names the source that the program was built from, as results and files that
// leave the program do.
var version = sourceVersion(debug.ReadBuildInfo())

// revisionDigits is how many digits of a commit name it, as the go command writes them.
const revisionDigits = 12

// sourceVersion returns the version without its v of a program built from a tagged
// commit, "dev-" and the commit of one built from any other, with "-changed" where the
// files differ from it, and "dev" where the build does not say: under go run and go test,
// or with -buildvcs=false.
func sourceVersion(info *debug.BuildInfo, ok bool) string {
	if !ok {
		return "dev"
	}
	revision, changed := setting(info, "vcs.revision"), setting(info, "vcs.modified") == "true"
	if len(revision) > revisionDigits {
		revision = revision[:revisionDigits]
	}
	tag, _, _ := strings.Cut(info.Main.Version, "+dirty")
	made := revision != "" && strings.HasSuffix(tag, "-"+revision) // by the go command, of date and commit
	var name string
	switch {
	case strings.HasPrefix(tag, "v") && !made:
		name = strings.TrimPrefix(tag, "v")
	case revision != "":
		name = "dev-" + revision
	default:
		return "dev"
	}
	if changed {
		name += "-changed"
	}
	return name
}

// versionText is what --version prints: the version, and what the same bytes are built
// from and by.
func versionText(info *debug.BuildInfo, ok bool) string {
	text := "gapline version " + sourceVersion(info, ok) + "\n"
	if !ok {
		return text
	}
	from := "an unnamed source"
	if revision := setting(info, "vcs.revision"); revision != "" {
		from = "commit " + revision
		if at := setting(info, "vcs.time"); at != "" {
			from += " of " + at
		}
	}
	return text + fmt.Sprintf("built from %s by %s for %s/%s\n", from, info.GoVersion, setting(info, "GOOS"), setting(info, "GOARCH"))
}

// setting is what the build says of a key, "" where it does not.
func setting(info *debug.BuildInfo, key string) string {
	for _, s := range info.Settings {
		if s.Key == key {
			return s.Value
		}
	}
	return ""
}
