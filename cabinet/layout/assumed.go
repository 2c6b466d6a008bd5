package layout

// Assumed is a thing that the design does not say and that the layout takes.
type Assumed uint8

// What is taken.
const (
	FrontWidth    Assumed = iota // the front is as wide as the parts beside each other
	BandPlace                    // a band stands in the room that the others leave
	ColumnSpacing                // columns touch
	RowSpacing                   // rows touch
	MouthOfBox                   // the horn's mouth is as high as the box
	WallsByAngle                 // the side walls are as deep as the coverage asks for
	StraightWalls                // the side walls are straight
	FoldSide                     // the fold's first layer and the driver lie towards the middle, of a horn on it to the left
	DriverWidth                  // the compression driver is as wide as its throat
	ConeSetback                  // cones stand behind the plate by the depth of the chamber
	PlateWidth                   // the plate is as wide as the woofers or its mouths
	PlateHeight                  // the plate is as high as the woofers or its mouths reach
	RearHeight                   // the cabinet does not taper
	PanelWall                    // the panels take no room
	ConeSize                     // a driver is as large as its piston
	OutletPlace                  // a vent or passive radiator stands where the front leaves room
	AssumedCount                 // the length of a table of them
)

// Default is one thing taken, with its value in SI.
type Default struct {
	Of    Assumed
	Band  Band
	Value float64
}

// assume notes a default once.
func (l *Layout) assume(of Assumed, band Band, value float64) {
	for _, d := range l.Defaults {
		if d.Of == of && d.Band == band {
			return
		}
	}
	l.Defaults = append(l.Defaults, Default{of, band, value})
}
