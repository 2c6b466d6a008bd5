// Package wordset serves closed sets of words: types whose members have a name in
// the design file, such as the profiles of a horn. The members of a set are
// counted from 1; its zero value means that none is given and has no name.
//
// A set is a type over int with its behaviour in one table, an array as long as
// the set, beside the type. Whatever lists, reads or writes its words takes them
// from Name, so that a new row of the table is a new word of the file.
package wordset

import "fmt"

// Member is a member of a closed set. Name is its word in the design file, empty
// for the zero value and beyond the last member.
type Member interface {
	~int
	Name() string
}

// All returns the members of a set in order.
func All[T Member]() []T {
	var all []T
	for m := T(1); m.Name() != ""; m++ {
		all = append(all, m)
	}
	return all
}

// Names returns the words of a set in order.
func Names[T Member]() []string {
	var names []string
	for _, m := range All[T]() {
		names = append(names, m.Name())
	}
	return names
}

// Parse returns the member of that name; the zero value and false when there is
// none.
func Parse[T Member](name string) (T, bool) {
	for _, m := range All[T]() {
		if m.Name() == name {
			return m, true
		}
	}
	return 0, false
}

// Row returns the row of a member in the table of its set; the zero row for a
// value that is no member.
func Row[T ~int, R any](table []R, m T) R {
	if m < 1 || int(m) >= len(table) {
		var none R
		return none
	}
	return table[m]
}

// Check returns what is wrong with a set of the given members, the last being
// count - 1: a row without a name, or two with one.
func Check[T Member](count T) error {
	seen := map[string]T{}
	for m := T(1); m < count; m++ {
		name := m.Name()
		if name == "" {
			return fmt.Errorf("member %d has no name", int(m))
		}
		if other, twice := seen[name]; twice {
			return fmt.Errorf("members %d and %d are both %q", int(other), int(m), name)
		}
		seen[name] = m
	}
	if T(0).Name() != "" || count.Name() != "" {
		return fmt.Errorf("a value that is no member has a name")
	}
	return nil
}
