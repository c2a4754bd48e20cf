package sheet

// colour is an ink. All but the pale ones are dark enough to read when printed
// in black.
type colour struct{ r, g, b int }

// The inks of the workbench's pages by day, on white; black itself, which printers
// set without a screen.
var (
	ink   = colour{0, 0, 0}
	quiet = colour{0x4a, 0x54, 0x50}
	line  = colour{0xc4, 0xbd, 0xac}
	rule  = colour{0x8d, 0x8a, 0x7c}
	act   = colour{0x23, 0x54, 0x5c}
	dye   = colour{0xa2, 0x52, 0x0f}
	stop  = colour{0x94, 0x28, 0x1c}
	cream = colour{0xf3, 0xe3, 0xc3}
	amber = colour{0xc9, 0x85, 0x3f}
	night = colour{0x2c, 0x4a, 0x52}
)

// style is a way to set text, its size in points.
type style struct {
	bold bool
	size float64
	ink  colour
}

const point = 25.4 / 72 // mm

// leading is the distance of lines, in millimetres, on a page of some closeness.
func (p *page) leading(s style) float64 { return s.size * point * p.spacing }

// ascent is how far the first baseline lies below the top of the text.
func (s style) ascent() float64 { return s.size * point * 1.02 }

var (
	titled  = style{true, 21, ink}
	headed  = style{true, 12.5, act}
	subhead = style{true, 10, act}
	body    = style{false, 9.5, ink}
	strong  = style{true, 9.5, ink}
	lead    = style{false, 11, ink}
	fine    = style{false, 8.2, quiet}
	fineInk = style{false, 8.2, ink}
	fineOwn = style{true, 8.2, ink}
	label   = style{false, 8.8, quiet}
	figure  = style{true, 13, ink}
	huge    = style{true, 30, ink}
	large   = style{true, 20, ink}
)
