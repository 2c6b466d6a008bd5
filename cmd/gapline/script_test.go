package main

import (
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"gapline": main})
}

// TestScripts runs the scripts, which are examples of use as well. $MEASURED is
// the folder of synthetic measured responses.
func TestScripts(t *testing.T) {
	measured, err := filepath.Abs(filepath.Join("..", "..", "testdata", "measured"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(env *testscript.Env) error {
			env.Setenv("MEASURED", measured)
			return nil
		},
	})
}
