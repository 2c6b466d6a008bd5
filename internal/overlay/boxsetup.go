package overlay

import (
	"fmt"
	"strings"

	"gapline/cabinet"
	"gapline/driver"
)

// boxSetup returns the box's circuit as the design gives it. An insert whose
// dimensions do not suffice is an error: a prediction that leaves it out
// silently would be laid under the wrong measurement.
func boxSetup(d *cabinet.Design) (driver.Setup, error) {
	if lacks := d.InsertLacks(); d.HasInsert() && len(lacks) > 0 {
		return driver.Setup{}, fmt.Errorf("%s is not given", strings.Join(lacks, ", "))
	}
	s, err := d.BoxSetup()
	if err != nil {
		return s, err
	}
	_, err = driver.NewCircuit(s)
	return s, err
}
