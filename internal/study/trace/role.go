package trace

import "fmt"

// role is what the pairs say that a trace is of.
type role uint8

const (
	plain      role = iota // in no pair, or of a box with its insert
	withInsert             // of a box with its insert, in a pair
	bareCones              // of the same without it
	stack                  // of a stack
	horn                   // of a horn
)

// rolesOf collects what the pairs say of their traces. A trace that is said to be two
// things is an error.
func rolesOf(pairs []PairInput) (map[string]role, error) {
	roles := map[string]role{}
	words := map[role]string{withInsert: "the box with its insert", bareCones: "the box without its insert", stack: "a stack", horn: "a horn"}
	set := func(name string, r role) error {
		if old, ok := roles[name]; ok && old != r {
			return fmt.Errorf("%s is said to be %s and %s: name each file in one place", name, words[old], words[r])
		}
		roles[name] = r
		return nil
	}
	for _, p := range pairs {
		both := [...][2]role{OfBox: {withInsert, bareCones}, OfStacks: {stack, stack}, OfEdge: {horn, horn}}[p.Of]
		with, without := both[0], both[1]
		if err := set(p.With.Name, with); err != nil {
			return nil, err
		}
		if err := set(p.Without.Name, without); err != nil {
			return nil, err
		}
	}
	return roles, nil
}

// predict finds the predictions that the traces need. With Auto, a box without its insert
// is laid over bare cones, and a stack over nothing: the prediction is of one box.
func (v *Overlay) predict(traces []Input, roles map[string]role) (err error) {
	o := v.Options
	stacks, bare := 0, false
	for _, in := range traces {
		if roles[in.Name] == stack || roles[in.Name] == horn {
			stacks++
		}
		bare = bare || roles[in.Name] == bareCones
	}
	if o.Against == Auto && stacks == len(traces) {
		v.Why = "the traces are of stacks or horns, the prediction is of the woofers of one box"
		return nil
	}
	if v.Prediction, v.Why, err = predict(v.Design, o); err != nil || v.Prediction == nil {
		return err
	}
	if o.Against == Auto && bare && v.Prediction.Insert {
		v.Bare, err = predictBox(v.Design, Bare, o.Volts)
	}
	return err
}

// own is the prediction that a trace is laid over.
func (v *Overlay) own(r role) *Prediction {
	switch {
	case v.Options.Against == Auto && (r == stack || r == horn):
		return nil
	case v.Bare != nil && r == bareCones:
		return v.Bare
	}
	return v.Prediction
}
