package designfile

import (
	"errors"
	"testing"

	"gapline/internal/schema"
)

// What a study finds in a project is told with the lines of its file, in their order;
// a table that is not there has no line.
func TestFaultsOfAStudyHaveLines(t *testing.T) {
	f, err := Parse("x.toml", []byte(tiny+"[search]\ngoals = [\"minimise gap.low_hz\"]\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	err = f.Locate(schema.Faults{
		{Path: "search.goals", Text: "is bad"},
		{Path: "search.vary", Text: "is missing"},
		{Path: "tolerance", Text: "is missing. Add", Example: "[tolerance]"},
	})
	want := "x.toml: tolerance is missing. Add\n[tolerance]\n" +
		"x.toml:9: search.vary is missing\n" +
		"x.toml:10: search.goals is bad"
	var problems Problems
	if !errors.As(err, &problems) || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
	if other := errors.New("something else"); f.Locate(other) != other || f.Locate(nil) != nil {
		t.Error("another error does not stay as it is")
	}
}
