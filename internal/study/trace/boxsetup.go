package trace

import (
	"fmt"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/check"
)

// boxSetup returns the box's circuit as the design gives it. An insert whose
// dimensions do not suffice is an error: a prediction that leaves it out
// silently would be laid under the wrong measurement.
func boxSetup(d *design.Design) (driver.Setup, error) {
	if lacks := check.InsertLacks(d); d.HasInsert() && len(lacks) > 0 {
		return driver.Setup{}, fmt.Errorf("%s is not given", strings.Join(lacks, ", "))
	}
	s, err := check.BoxSetup(d)
	if err != nil {
		return s, err
	}
	_, err = driver.NewCircuit(s)
	return s, err
}
