package check

import (
	"testing"

	"gapline/cabinet/design"
)

// A driver needs five values; zeros are values.
func TestHornDriveLacks(t *testing.T) {
	if missing := HornDriveLacks(new(design.HornDrive)); len(missing) != 0 {
		t.Errorf("a driver of zeros lacks %v", missing)
	}
	if blank := design.New().HornDrive; len(HornDriveLacks(&blank)) != 5 || blank.Given() {
		t.Errorf("a blank driver lacks %v", HornDriveLacks(&blank))
	}
}
