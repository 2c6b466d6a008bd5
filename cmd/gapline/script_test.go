package main

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"gapline": main})
}

// TestScripts runs the command lines of testdata/script, one file for each
// topic, as a user types them.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			// $MEASURED is the folder of synthetic measured responses.
			measured, err := filepath.Abs(filepath.Join("..", "..", "testdata", "measured"))
			env.Setenv("MEASURED", measured)
			return err
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits": exits,
			"json":  jsonIs,
			"lines": lines,
			"magic": magic,
		},
		Condition: func(cond string) (bool, error) {
			if cond == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, errors.New("unknown condition " + cond)
		},
	})
}

// exits CODE PROGRAM ARGS… runs the program and wants that very exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	if err != nil || neg {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS...")
	}
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// json FILE KEY VALUE [TOLERANCE] wants a value under a dotted key of a JSON
// object; parts of the key that are numbers index lists. VALUE is null, a
// number, a text, or the number of entries as len:N.
func jsonIs(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 3 || neg {
		ts.Fatalf("usage: json FILE KEY VALUE [TOLERANCE]")
	}
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(args[0])), &v); err != nil {
		ts.Fatalf("%s is not one JSON value: %v", args[0], err)
	}
	for rest := args[1]; rest != ""; {
		var ok bool
		if v, rest, ok = step(v, rest); !ok {
			ts.Fatalf("no %s in %s", args[1], args[0])
		}
	}
	tolerance := 0.0
	if len(args) > 3 {
		tolerance, _ = strconv.ParseFloat(args[3], 64)
	}
	if !matches(v, args[2], tolerance) {
		ts.Fatalf("%s is %v, want %s within %v", args[1], v, args[2], tolerance)
	}
}

// step goes down one key: the longest that the object has, since the keys of a
// sweep's rows hold dots themselves.
func step(v any, path string) (sub any, rest string, ok bool) {
	if list, isList := v.([]any); isList {
		head, rest, _ := strings.Cut(path, ".")
		if i, err := strconv.Atoi(head); err == nil && i < len(list) {
			return list[i], rest, true
		}
		return nil, "", false
	}
	o, _ := v.(map[string]any)
	for end := len(path); end > 0; end = strings.LastIndexByte(path[:end], '.') {
		if sub, ok := o[path[:end]]; ok {
			return sub, strings.TrimPrefix(path[end:], "."), true
		}
	}
	return nil, "", false
}

func matches(v any, want string, tolerance float64) bool {
	switch x := v.(type) {
	case nil:
		return want == "null"
	case float64:
		w, err := strconv.ParseFloat(want, 64)
		return err == nil && math.Abs(x-w) <= tolerance
	case string:
		return x == want
	case []any:
		return want == "len:"+strconv.Itoa(len(x))
	}
	return false
}

// lines FILE MOST wants no more than so many lines.
func lines(ts *testscript.TestScript, neg bool, args []string) {
	most, err := strconv.Atoi(args[1])
	if err != nil || neg {
		ts.Fatalf("usage: lines FILE MOST")
	}
	if n := strings.Count(ts.ReadFile(args[0]), "\n"); n > most {
		ts.Fatalf("%d lines in %s, at most %d wanted", n, args[0], most)
	}
}

// magic FILE TEXT wants the text within the first bytes of a file, where formats
// have their mark.
func magic(ts *testscript.TestScript, neg bool, args []string) {
	data := ts.ReadFile(args[0])
	if strings.Contains(data[:min(len(data), 16)], args[1]) == neg {
		ts.Fatalf("%s does not start with the mark %s", args[0], args[1])
	}
}
