package live

import (
	"context"
	"testing"

	"gapline/internal/designfile"
)

// BenchmarkAnswer is the server's share of the time from a hand's move to the picture.
func BenchmarkAnswer(b *testing.B) {
	text, err := designfile.StarterText("hatch-insert")
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		stack bool
	}{{"size", false}, {"stack", true}} {
		b.Run(c.name, func(b *testing.B) {
			s, err := New(context.Background(), Options{Text: text})
			if err != nil {
				b.Fatal(err)
			}
			defer s.listener.Close()
			q := &request{Set: []string{"cabinet.pitch=260mm"}, InHand: "cabinet.pitch", Focus: "gap.open_oct", Stack: c.stack}
			for b.Loop() {
				if a := s.answer(context.Background(), text, q); len(a.Faults) > 0 {
					b.Fatal(a.Faults)
				}
			}
		})
	}
}
