package style

// RGB is a colour to paint with: red, green and blue, 0 to 255.
type RGB [3]float32

// Mix returns the colour some of the way, 0 to 1, from c to d.
func (c RGB) Mix(d RGB, share float32) RGB {
	for i := range c {
		c[i] += (d[i] - c[i]) * share
	}
	return c
}

// Lit returns the colour in so much light, 1 leaving it as it is.
func (c RGB) Lit(light float32) RGB {
	for i := range c {
		c[i] *= light
	}
	return c
}

// Plus returns the colour with so much white light added to it.
func (c RGB) Plus(light float32) RGB {
	for i := range c {
		c[i] += light
	}
	return c
}

// Palette is what the stone is painted with.
type Palette struct {
	// Beyond is the ground around the stone, which its edge fades into; where
	// it is not known (Fades false) the edge ends sharply.
	Beyond RGB
	Fades  bool
	// Flat says that the terminal can only fill, not shade.
	Flat bool

	Rock, Play, Hollow, Finished, Wall, Back, Crack, Breach, Offcut, Shade RGB
	// Ambient is the light, 0 to 1, that falls where none falls directly.
	Ambient float32
	// Gloss is how much light, of 255, a polished dome throws back at most.
	Gloss float32
}

// Palette returns what the stone is painted with on this terminal, nil where it
// can only draw lines.
func (s *Sheet) Palette() *Palette {
	if s.colours == NoColour {
		return nil
	}
	p := Palette{
		Beyond: RGB{24, 24, 26}, Rock: RGB{96, 88, 79}, Play: RGB{56, 104, 236}, Hollow: RGB{186, 146, 88},
		Finished: RGB{34, 158, 114}, Wall: RGB{30, 132, 112}, Back: RGB{28, 112, 120}, Crack: RGB{190, 40, 34},
		Breach: RGB{206, 26, 36}, Offcut: RGB{40, 40, 42}, Shade: RGB{12, 14, 14}, Ambient: 0.42, Gloss: 120,
	}
	if s.stage() == Light {
		p = Palette{
			Beyond: RGB{255, 255, 255}, Rock: RGB{216, 207, 196}, Play: RGB{112, 154, 250}, Hollow: RGB{208, 170, 106},
			Finished: RGB{122, 216, 180}, Wall: RGB{116, 204, 190}, Back: RGB{120, 196, 206}, Crack: RGB{226, 110, 100},
			Breach: RGB{240, 96, 96}, Offcut: RGB{246, 246, 246}, Shade: RGB{252, 252, 248}, Ambient: 0.74, Gloss: 90,
		}
	}
	if s.colours == Palette256 {
		// The cube of 256 colours has few dark hues: these come out as meant.
		p.Play, p.Hollow = RGB{10, 98, 222}, RGB{200, 152, 96}
		p.Finished, p.Wall, p.Back, p.Ambient = RGB{0, 178, 112}, RGB{0, 160, 128}, RGB{0, 138, 138}, 0.56
		if s.stage() == Light {
			p.Play, p.Hollow = RGB{96, 150, 255}, RGB{212, 175, 112}
		}
	}
	p.Fades = s.ground != Unknown && s.colours == TrueColour
	p.Flat = s.colours == Sixteen
	return &p
}
