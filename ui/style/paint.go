package style

import "cabwright/ui/canvas"

// Shades reports whether the terminal can shade a ground, not only fill it.
func (s *Sheet) Shades() bool { return s.colours >= Palette256 }

// stage is the ground the stone is painted for: dark unless the terminal's is
// known to be light, since the stone brings its own.
func (s *Sheet) stage() Ground {
	if s.ground == Light {
		return Light
	}
	return Dark
}

// remembered is how many looks are kept before they are forgotten at once: some
// screens full, a few megabytes.
const remembered = 1 << 16

// Canvas dresses the looks of a drawing: it is a canvas.Paint.
func (s *Sheet) Canvas(l canvas.Look) canvas.Dress {
	if l.Class == canvas.Ground {
		return s.dress(l)
	}
	l = s.together(l)
	if d, ok := s.dressed[l]; ok {
		return d
	}
	d := s.dress(l)
	if len(s.dressed) >= remembered {
		clear(s.dressed)
	}
	s.dressed[l] = d
	return d
}

// beyond is the ground taken for that around the stone: what most dark and light
// terminals have, to within a few levels.
func (s *Sheet) beyond() canvas.Tone {
	if s.ground == Light {
		return canvas.NewTone(canvas.Bare, 255, 255, 255)
	}
	return canvas.NewTone(canvas.Bare, 24, 24, 26)
}

// together gives both halves of a cell that something is drawn in the one
// ground it can have: their mean, to within 8 levels of 256, so that few
// different ones have to be reckoned.
func (s *Sheet) together(l canvas.Look) canvas.Look {
	u, w := l.Upper, l.Lower
	switch {
	case u == 0 && w == 0:
		return l
	case u == 0 || w == 0:
		// Half of it is no stone: it shows as far as that ground is known.
		u |= w
		if w = u; s.ground != Unknown {
			w = s.beyond()
		}
	}
	r, g, b := u.RGB()
	r2, g2, b2 := w.RGB()
	m := max(u.Material(), w.Material())
	mean := func(a, b uint8) uint8 { return uint8((int(a)+int(b))/2) &^ 7 }
	t := canvas.NewTone(m, mean(r, r2), mean(g, g2), mean(b, b2))
	l.Upper, l.Lower = t, t
	return l
}

func (s *Sheet) dress(l canvas.Look) canvas.Dress {
	switch {
	case s.colours == NoColour:
		return canvas.Dress{}
	case s.colours == Sixteen:
		return s.dress16(l)
	case l.Class == canvas.Ground:
		return s.bare(l)
	}
	if l.Class == canvas.Cursor && l.Words {
		// Nothing else has a ground of its own.
		return canvas.Dress{Fore: s.colour(0x000000), Back: s.colour(0xffffff), Bold: true}
	}
	role := looks[roles[l.Class]]
	d := canvas.Dress{Bold: role.bold && l.Words}
	if l.Upper == 0 {
		fore := role.on(s.ground)
		if fore != own {
			d.Fore = s.colour(fore)
		}
		return d
	}
	fore := role.on(s.stage())
	if fore == own {
		fore = [...]uint32{Dark: 0xe8e8e8, Light: 0x1a1a1a}[s.stage()]
	}
	ground := rgb(l.Upper)
	if l.Words {
		ground = under(fore, ground, wordContrast, s.shown)
	} else {
		fore, ground = drawnOn(fore, ground, s.shown)
	}
	d.Fore, d.Back = s.colour(fore), s.colour(ground)
	return d
}

// bare dresses a cell that shows its ground alone.
func (s *Sheet) bare(l canvas.Look) canvas.Dress {
	var d canvas.Dress
	switch {
	case l.Upper == l.Lower && l.Upper != 0:
		d.Back = s.colour(rgb(l.Upper))
	case l.Upper == 0:
		d.Fore = s.colour(rgb(l.Lower))
	default:
		d.Fore = s.colour(rgb(l.Upper))
		if l.Lower != 0 {
			d.Back = s.colour(rgb(l.Lower))
		}
	}
	return d
}

func rgb(t canvas.Tone) uint32 { return uint32(t) & 0xffffff }

// colour writes a colour as the terminal can show it.
func (s *Sheet) colour(c uint32) canvas.Ink {
	if s.colours == Palette256 {
		return canvas.Palette(uint8(cube(c)))
	}
	return canvas.RGB(uint8(c>>16), uint8(c>>8), uint8(c))
}

// shown returns what a colour becomes on the terminal.
func (s *Sheet) shown(c uint32) uint32 {
	if s.colours == Palette256 {
		return entry(cube(c))
	}
	return c
}
