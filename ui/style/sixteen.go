package style

import "cabwright/ui/canvas"

// fills are the plain fills of a terminal with 16 colours. Which colours these
// are is the terminal's own choice: lines and words stand on a fill only where they
// keep their contrast on it with the usual ones, else on black, or on white where the
// ground is light.
var fills = [canvas.Materials]struct{ dark, light uint8 }{
	canvas.Rock:     {8, 7},
	canvas.Play:     {4, 12},
	canvas.Hollow:   {3, 11},
	canvas.Finished: {2, 10},
	canvas.Wall:     {6, 14},
	canvas.Back:     {6, 14},
	canvas.Ghost:    {8, 7},
	canvas.Offcut:   {0, 15},
	canvas.Breach:   {1, 9},
}

// xterm16 and vga16 are what the 16 colours mostly look like: the defaults of xterm,
// by its manual, and of VGA text mode.
var (
	xterm16 = [16]uint32{
		0x000000, 0xcd0000, 0x00cd00, 0xcdcd00, 0x0000ee, 0xcd00cd, 0x00cdcd, 0xe5e5e5,
		0x7f7f7f, 0xff0000, 0x00ff00, 0xffff00, 0x5c5cff, 0xff00ff, 0x00ffff, 0xffffff,
	}
	vga16 = [16]uint32{
		0x000000, 0xaa0000, 0x00aa00, 0xaa5500, 0x0000aa, 0xaa00aa, 0x00aaaa, 0xaaaaaa,
		0x555555, 0xff5555, 0x55ff55, 0xffff55, 0x5555ff, 0xff55ff, 0x55ffff, 0xffffff,
	}
)

// stands reports whether one of the 16 colours keeps its contrast on another,
// whichever of the two the terminal takes them for.
func stands(fore, back uint8, least float64) bool {
	return Contrast(xterm16[fore], xterm16[back]) >= least && Contrast(vga16[fore], vga16[back]) >= least
}

// lines16 are the 16 colours that lines and words on the stone have. They keep
// 3:1 and 4.5:1 on black or white with the palettes of xterm and of VGA text
// mode; on white few do, and what has none of them is black and told apart by
// its stroke.
var lines16 = map[Role]struct{ dark, light uint8 }{
	Crack:    {9, 1},
	Bad:      {9, 1},
	Limit:    {11, 5},
	Sealed:   {13, 5},
	Pocket:   {11, 0},
	Zone:     {14, 4},
	Fit:      {10, 0},
	Ring:     {15, 0},
	Reading:  {14, 4},
	CutLine:  {14, 4},
	SawCut:   {15, 0},
	Selected: {11, 5},
}

// dress16 dresses a look with the 16 colours.
func (s *Sheet) dress16(l canvas.Look) canvas.Dress {
	fill := func(t canvas.Tone) canvas.Ink {
		f := fills[t.Material()]
		if s.stage() == Light {
			return canvas.Sixteen(f.light)
		}
		return canvas.Sixteen(f.dark)
	}
	if l.Class == canvas.Ground {
		switch {
		case l.Upper == 0:
			return canvas.Dress{Fore: fill(l.Lower)}
		case l.Lower == 0:
			return canvas.Dress{Fore: fill(l.Upper)}
		case l.Upper == l.Lower:
			return canvas.Dress{Back: fill(l.Upper)}
		}
		return canvas.Dress{Fore: fill(l.Upper), Back: fill(l.Lower)}
	}
	role := looks[roles[l.Class]]
	d := canvas.Dress{Bold: role.bold && l.Words}
	if l.Class == canvas.Cursor && l.Words {
		return canvas.Dress{Fore: canvas.Sixteen(0), Back: canvas.Sixteen(15), Bold: true}
	}
	if l.Upper == 0 {
		if role.ansi != 39 {
			d.Fore = canvas.Sixteen(uint8(role.ansi - 30))
		}
		return d
	}
	own, ok := lines16[roles[l.Class]]
	if !ok {
		own = struct{ dark, light uint8 }{15, 0}
	}
	fore, back, filled := own.dark, uint8(0), fills[l.Upper.Material()].dark
	if s.stage() == Light {
		fore, back, filled = own.light, 15, fills[l.Upper.Material()].light
	}
	least := lineContrast
	if l.Words {
		least = wordContrast
	}
	if stands(fore, filled, least) {
		back = filled
	}
	d.Fore, d.Back = canvas.Sixteen(fore), canvas.Sixteen(back)
	return d
}
