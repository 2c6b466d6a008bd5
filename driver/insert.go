package driver

import "errors"

type Insert struct{}
type insertLoad struct{ area float64 }

func newInsertLoad(c *Circuit) (*insertLoad, error) { return nil, errors.New("x") }
func (l *insertLoad) at(omega float64) frontState   { return frontState{} }
