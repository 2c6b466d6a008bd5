package part

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// Every line must stand as it was written and where it was written; the message
// says which does not.
func TestChangedFileIsRefused(t *testing.T) {
	other := lines(t, write(t, Part{2, 2}, "x", "Hhead", "R1,2", "R3,4", "R5,6", "R7,8"))
	for name, c := range map[string]struct {
		change func(l []string) []string
		want   string
	}{
		"swapped":    {func(l []string) []string { l[2], l[3] = l[3], l[2]; return l }, "line 3 was altered, or does not stand"},
		"doubled":    {func(l []string) []string { return slices.Insert(l, 4, l[3]) }, "line 5 was altered"},
		"left out":   {func(l []string) []string { return slices.Delete(l, 3, 4) }, "line 4 was altered"},
		"last out":   {func(l []string) []string { return slices.Delete(l, 5, 6) }, "has fewer lines than its last one counts"},
		"last twice": {func(l []string) []string { return slices.Insert(l, 5, l[5]) }, "has more than the 5 lines"},
		"one more":   {func(l []string) []string { return slices.Insert(l, 6, "R0000000011,12") }, "has more than the 5 lines that its last one counts"},
		"a digit":    {func(l []string) []string { l[4] = strings.Replace(l[4], "5,6", "5,7", 1); return l }, "line 5 was altered"},
		"a letter":   {func(l []string) []string { l[4] = "S" + l[4][1:]; return l }, "line 5 was altered"},
		"a mark":     {func(l []string) []string { l[4] = "R00000000" + l[4][9:]; return l }, "line 5 was altered"},
		"no mark":    {func(l []string) []string { l[4] = "R"; return l }, "line 5 was altered"},
		"foreign":    {func(l []string) []string { l[4] = other[4]; return l }, "line 5 was altered"},
		"other head": {func(l []string) []string { l[0] = strings.Replace(l[0], `"part":1`, `"part":2`, 1); return l }, "line 1 was altered"},
		"other size": {func(l []string) []string { l[0] = strings.Replace(l[0], `"designs":9`, `"designs":8`, 1); return l }, "line 1 was altered"},
		"skipped":    {func(l []string) []string { l[6] = strings.Replace(l[6], `"skipped":2`, `"skipped":3`, 1); return l }, "line 7 was altered"},
		"why":        {func(l []string) []string { l[6] = strings.Replace(l[6], "no room", "no time", 1); return l }, "line 7 was altered"},
		"count":      {func(l []string) []string { l[6] = strings.Replace(l[6], `"lines":5`, `"lines":4`, 1); return l }, "has more than the 4 lines"},
	} {
		path := write(t, Part{1, 2}, "x", "Hhead", "R1,2", "R3,4", "R5,6", "R7,8")
		before := lines(t, path)
		after := c.change(slices.Clone(before))
		if slices.Equal(before, after) {
			t.Fatalf("%s: nothing was changed", name)
		}
		if err := os.WriteFile(path, []byte(strings.Join(after, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		f, err := Open(t.Context(), path)
		if err == nil {
			f.Close()
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// lines returns the lines of a file.
func lines(t *testing.T, path string) []string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
}
