package canvas

// Material is what a piece of ground shows, for terminals that can only fill
// it plainly. The zero Material is bare: no stone, the terminal's own ground.
type Material uint8

// The materials, in the order in which they lie over one another.
const (
	Bare      Material = iota
	Rock               // the rough itself
	Play               // a zone with play-of-colour
	Hollow             // a pocket
	Finished           // a fit: its dome
	Wall               // a fit's bezel wall, in a section
	Back               // a fit's back, in a section
	Ghost              // the best fit, shown faintly
	Offcut             // what a saw cut takes off
	Breach             // where a fit breaks an allowance
	Materials          // how many materials there are
)

// Tone is the colour of the ground in half a cell: its material in the highest
// byte, then red, green and blue. The zero Tone is the terminal's own ground.
type Tone uint32

// NewTone returns the tone of a material in a colour.
func NewTone(m Material, r, g, b uint8) Tone {
	return Tone(m)<<24 | Tone(r)<<16 | Tone(g)<<8 | Tone(b)
}

// Material returns what the ground shows.
func (t Tone) Material() Material { return Material(t >> 24) }

// RGB returns the ground's colour.
func (t Tone) RGB() (r, g, b uint8) { return uint8(t >> 16), uint8(t >> 8), uint8(t) }

// Halves returns how many half cells the ground has across and down: each is as
// high as wide.
func (c *Canvas) Halves() (across, down int) { return c.width, 2 * c.height }

// SetTone gives the half cell in column x, row y of half cells its ground;
// outside the canvas it does nothing.
func (c *Canvas) SetTone(x, y int, t Tone) {
	if x < 0 || y < 0 || x >= c.width || y >= 2*c.height {
		return
	}
	if c.ground == nil {
		c.ground = make([]Tone, 2*c.width*c.height)
	}
	c.ground[y*c.width+x] = t
}

// Tone returns the ground of the half cell in column x, row y of half cells.
func (c *Canvas) Tone(x, y int) Tone {
	if c.ground == nil || x < 0 || y < 0 || x >= c.width || y >= 2*c.height {
		return 0
	}
	return c.ground[y*c.width+x]
}

// tones returns the ground of cell i.
func (c *Canvas) tones(i int) (upper, lower Tone) {
	if c.ground == nil {
		return 0, 0
	}
	row, col := i/c.width, i%c.width
	return c.ground[2*row*c.width+col], c.ground[(2*row+1)*c.width+col]
}
