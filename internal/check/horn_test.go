package check

import (
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// A driver needs five values; zeros are values.
func TestHornDriveLacks(t *testing.T) {
	zero := optional.Of(0)
	zeros := design.HornDrive{Driver: waveguide.CompressionDriver{Re: zero, Bl: zero, Mms: zero, Fs: zero, Sd: zero}}
	if missing := HornDriveLacks(&zeros); len(missing) != 0 {
		t.Errorf("a driver of zeros lacks %v", missing)
	}
	if blank := design.New().HornDrive; len(HornDriveLacks(&blank)) != 5 || blank.Given() {
		t.Errorf("a blank driver lacks %v", HornDriveLacks(&blank))
	}
}
