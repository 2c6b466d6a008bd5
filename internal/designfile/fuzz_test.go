package designfile

import (
	"errors"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/check"
)

// FuzzParse feeds the loader anything. It must not panic, every problem must
// name the file and a line of it, and an accepted design must pass its checks
// and be sizable.
func FuzzParse(f *testing.F) {
	for _, s := range Starters {
		text, err := StarterText(s.Name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, b := range broken {
		f.Add([]byte(b.text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := Parse("fuzz.toml", data, nil)
		if err == nil {
			if problems := check.Design(&file.Design); len(problems) > 0 {
				t.Fatalf("accepted, but %v", problems)
			}
			sized(file)
			return
		}
		var problems Problems
		if !errors.As(err, &problems) || len(problems) == 0 {
			t.Fatalf("error %v is not a list of problems", err)
		}
		lines := strings.Count(string(data), "\n") + 1
		for i, p := range problems {
			if p.Where != "fuzz.toml" || p.Text == "" || p.Line < 0 || p.Line > lines {
				t.Fatalf("problem %+v does not lead to a place in a file of %d lines", p, lines)
			}
			if i > 0 && i < maxProblems && problems[i-1].Line > p.Line {
				t.Fatalf("problems out of order: %v", err)
			}
		}
	})
}

func sized(f *File) *sizing.Sizing {
	s := sizing.Size(&f.Design)
	return &s
}
