package style

import "cabwright/ui/canvas"

// fills are the plain fills of a terminal with 16 colours. Which colours these
// are is the terminal's own choice; lines and words therefore never stand on a
// fill but on black, or on white where the ground is light.
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
	Ring:     {10, 0},
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
	d.Fore, d.Back = canvas.Sixteen(own.dark), canvas.Sixteen(0)
	if s.stage() == Light {
		d.Fore, d.Back = canvas.Sixteen(own.light), canvas.Sixteen(15)
	}
	return d
}
