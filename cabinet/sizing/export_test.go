package sizing

// What the tests of the figures need of the insides.
var (
	WooferMouths = wooferMouths
	InsertMouths = insertMouths
)

// MaxLobes is maxLobes.
const MaxLobes = maxLobes
