package figure

import "gapline/internal/quantity"

// placeKeys are those that give parts their places.
var placeKeys = From("cabinet.height", "cabinet.width", "cabinet.depth", "woofer.offset", "mid.offset", "horn.offset")

func drawn(leaf, name, symbol string, kind quantity.Kind, formula string, terms []Term) *Def {
	return &Def{Key: "draw." + leaf, Name: name, Symbol: symbol, Kind: kind, Trust: Geometry, Formula: formula, Terms: terms, Source: geometry}
}

// The figures of the drawing. Coordinates are of the box: x forward, y to the left as seen
// from behind, z up, from the middle of the front.
var (
	DrawIndex  = drawn("parts.index", "number of a part among its like", "i", quantity.Number, "counted from 1, from the left, in a column from the bottom", placeKeys)
	DrawX      = drawn("parts.x_m", "part's middle, forward", "x", quantity.Length, "middle of the part's mouth, flange or outline before the middle of the front", append(From("woofer.setback", "horn.length", "fold.throat_to_wall"), placeKeys...))
	DrawY      = drawn("parts.y_m", "part's middle, left", "y", quantity.Length, "left of the middle of the front, as seen from behind", append(From("woofer.lateral_spacing"), placeKeys...))
	DrawZ      = drawn("parts.z_m", "part's middle, up", "z", quantity.Length, "above the middle of the front", append(From("woofer.rise", "woofer.spacing"), placeKeys...))
	DrawTurn   = drawn("parts.turn_deg", "turn of a part", "τ", quantity.Angle, "about the upright line through its middle, from forward to the left", From("woofer.turn", "mid.turn"))
	DrawWidth  = drawn("parts.width_m", "width of a part", "w", quantity.Length, "of its outline; of a round part its diameter", From("woofer.size", "mid.size", "horn.mouth_width"))
	DrawHeight = drawn("parts.height_m", "height of a part", "h", quantity.Length, "of its outline; of a round part its diameter", From("woofer.size", "mid.size", "horn.mouth_height"))
	DrawDepth  = drawn("parts.depth_m", "depth of a part", "d", quantity.Length, "behind its outline, along its axis", From("woofer.depth", "mid.depth", "horn.length", "fold.throat_to_wall", "compression_driver.depth"))

	DrawCabinetWidth  = drawn("cabinet.width_m", "width of the cabinet", "B", quantity.Length, "cabinet.width, or what the parts beside each other take", From("cabinet.width"))
	DrawCabinetHeight = drawn("cabinet.height_m", "height of the cabinet", "H", quantity.Length, "cabinet.height, or cabinet.pitch less cabinet.gap", From("cabinet.height", "cabinet.pitch", "cabinet.gap"))
	DrawCabinetDepth  = drawn("cabinet.depth_m", "depth of the cabinet", "D", quantity.Length, "cabinet.depth", From("cabinet.depth"))
	DrawCabinetRear   = drawn("cabinet.rear_height_m", "height of the cabinet at the rear", "H_r", quantity.Length, "cabinet.rear_height, or its height", From("cabinet.rear_height", "cabinet.height"))
	DrawCabinetWall   = drawn("cabinet.wall_m", "thickness of the panels", "t", quantity.Length, "cabinet.wall, or 0", From("cabinet.wall"))

	DrawStackBox   = drawn("stack.box", "number of a box", "i", quantity.Number, "counted from the top", From("line.boxes"))
	DrawStackX     = drawn("stack.x_m", "corner of a box, forward", "x_i", quantity.Length, "front top, front bottom, rear bottom, rear top; from the upper front edge of the top box", From("cabinet.height", "cabinet.depth", "cabinet.rear_height", "line.splay", "line.tilt"))
	DrawStackZ     = drawn("stack.z_m", "corner of a box, up", "z_i", quantity.Length, "above the ground with line.top_height, else above the middle of the straight stack", From("cabinet.height", "cabinet.depth", "cabinet.rear_height", "line.splay", "line.tilt", "line.top_height"))
	DrawStackAngle = drawn("stack.angle_deg", "direction of a box, positive up", "β_i", quantity.Angle, "tilt less the splay of the joints above", From("line.tilt", "line.splay"))

	DrawDefault = drawn("defaults.value", "value taken for what the file does not say", "v", quantity.Number, "SI, as the entry's words say", placeKeys)
)

// drawStudy lists them.
var drawStudy = []*Def{
	DrawIndex, DrawX, DrawY, DrawZ, DrawTurn, DrawWidth, DrawHeight, DrawDepth,
	DrawCabinetWidth, DrawCabinetHeight, DrawCabinetDepth, DrawCabinetRear, DrawCabinetWall,
	DrawStackBox, DrawStackX, DrawStackZ, DrawStackAngle, DrawDefault,
}
