package result

// Text is a sentence with numbers in it that are not yet set: a form for fmt whose
// verbs are all %s, and what goes into them: strings, Cells, Units and Texts.
type Text struct {
	Form string
	Args []any
}

// Say makes a text. The verbs of form are %s; args are strings, Cells, Units
// or Texts.
func Say(form string, args ...any) Text { return Text{form, args} }

// Plain is a text without numbers, taken as it stands.
func Plain(text string) Text {
	if text == "" {
		return Text{}
	}
	return Text{"%s", []any{text}}
}

// Empty reports whether there is nothing to say.
func (t Text) Empty() bool { return t.Form == "" }

// And joins two texts.
func (t Text) And(more Text) Text {
	return Text{t.Form + more.Form, append(append([]any{}, t.Args...), more.Args...)}
}

// Unit is the name of a unit in a text, such as the head of a column whose numbers
// stand bare.
type Unit struct{ Metric, Inch string }
