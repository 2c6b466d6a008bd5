package designfile

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/study/size"
)

const reviewed = `title = "a box"
[cabinet]
height = "200 mm"
[review]
question = "Which \"plate\"?"
reasons = ["light,  and\nstiff", "cheap"]
open_points = """
first
  second

"""
`

// Points come as a list or as lines; both read alike and survive being written
// out and read back.
func TestReviewPoints(t *testing.T) {
	f, err := Parse("box.toml", []byte(reviewed), nil)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Parse("again.toml", Encode(&f.Project, "a copy"), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []*design.Review{&f.Design.Review, &again.Design.Review} {
		if got, want := design.Points(r.Reasons), []string{"light, and stiff", "cheap"}; !slices.Equal(got, want) {
			t.Errorf("reasons are %q, want %q", got, want)
		}
		if got, want := design.Points(r.OpenPoints), []string{"first", "second"}; !slices.Equal(got, want) {
			t.Errorf("open points are %q, want %q", got, want)
		}
		if r.Question != `Which "plate"?` || r.Author != "" {
			t.Errorf("question is %q, author %q", r.Question, r.Author)
		}
	}
}

func TestReviewRefuses(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{`reasons = ["a", 2]`, "review.reasons entry 2 is the number 2: a text is needed"},
		{`reasons = 3`, "review.reasons is the number 3: free text, a line or an entry of a list of texts for each point is needed"},
		{`decision = ["a"]`, "review.decision is a list: free text is needed"},
		{`verdict = "x"`, "review.verdict is an unknown key: [review] takes question, decision, reasons, open_points, author, revision"},
		{`reasons = ["` + strings.Repeat("x", 4001) + `"]`, "review.reasons is 4001 characters long"},
	} {
		_, err := Parse("bad.toml", []byte("[cabinet]\nheight = \"200 mm\"\n[review]\n"+c.line+"\n"), nil)
		if err == nil || !strings.HasPrefix(err.Error(), "bad.toml:4: "+c.want) {
			t.Errorf("%.40s: error %v, want %q", c.line, err, c.want)
		}
	}
}

// The words of a review change no figure.
func TestReviewIsNotPhysics(t *testing.T) {
	a, err := LoadStarter("hatch-insert", nil)
	if err != nil {
		t.Fatal(err)
	}
	bare := a.Design
	bare.Review = design.Review{}
	s, r := sizing.Size(&bare), sizing.Size(&a.Design)
	for _, f := range size.Table {
		x, y := f.Of(&s), f.Of(&r)
		if x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			t.Errorf("%s is %v with and %v without the words", f.Key, y, x)
		}
	}
}
