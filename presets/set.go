package presets

// Set is everything the program has ready: the built-in tables and the
// cutter's own rows. Tables keep their order. Treat a Set as read-only.
type Set struct {
	Materials   []Material
	Cautions    []Caution
	Sizes       []Size
	DomeStyles  []DomeStyle
	BackStyles  []BackStyle
	Walls       []Wall
	Saws        []Saw
	Wheels      []Wheel
	Prices      []Price      // the cutter's own: none are built in
	RoughPrices []RoughPrice // likewise
	Allowances  Allowances
	Defaults    Defaults
}

// Material is a kind of rough.
type Material struct {
	Key       string   // as in a stone file
	Name      string   // as shown
	SG        Range    // specific gravity
	MohsLow   float64  // hardness
	MohsHigh  float64  //
	Porous    bool     // takes up water, oil, glue or dye
	Sensitive []string // what harms it
	Cautions  []string // keys of the cautions that belong to it
	Source    string
}

// Range is a quantity with its usual value.
type Range struct{ Low, Typical, High float64 }

// Caution is a warning shown where the work can hurt someone.
type Caution struct {
	Key     string
	General bool // belongs to every material
	Text    string
	Source  string
}

// Size is a calibrated outline: a setting can be bought for it.
type Size struct {
	Shape         string  // an outline's name
	Length, Width float64 // mm
	Source        string
}

// DomeStyle says how high a dome is.
type DomeStyle struct {
	Key, Name     string
	HeightByWidth float64 // height of the dome above the wall, as a share of the outline's width
	Source        string
}

// BackStyle says how far a back is domed. Either share may be 0; both 0 is a
// flat back.
type BackStyle struct {
	Key, Name string
	OfHeight  float64 // depth of the back as a share of the whole height of the stone
	OfDome    float64 // depth of the back as a multiple of the dome's height
	Source    string
}

// Depth returns how far the back reaches below the girdle, in millimetres,
// under a wall and a dome of the given heights. A share s of the whole height
// H = wall + dome + back makes back = s H = (wall + dome) s/(1 - s).
func (b BackStyle) Depth(wall, dome float64) float64 {
	return b.OfDome*dome + (wall+dome)*b.OfHeight/(1-b.OfHeight)
}

// Sides returns 1 when the back is flat and 2 when it is domed.
func (b BackStyle) Sides() int {
	if b.OfHeight == 0 && b.OfDome == 0 {
		return 1
	}
	return 2
}

// Wall is the bezel wall between girdle and dome.
type Wall struct {
	Key, Name string
	Height    float64 // mm
	LeanDeg   float64 // inwards, degrees from the vertical
	Source    string
}

// Saw is a blade and the width of the cut it takes.
type Saw struct {
	Key, Name string
	Kerf      float64 // mm
	Depth     float64 // how deep the blade reaches over the table, mm; 0: not known
	Source    string
}

// Wheel is a step of grinding.
type Wheel struct {
	Key, Name string
	Left      float64 // what is still left on a side after this step, at most, mm
	Source    string
}

// Allowances are the distances, in mm, that a new stone's file starts from.
type Allowances struct {
	Skin, Crack, SealedCrack, Pocket float64 // kept by a finished stone
	RunOn                            float64 // by which a crack is drawn on at both ends
	Source                           string
}

// Defaults are the keys that are taken when nothing is said.
type Defaults struct {
	Material, Wall, Saw string
	ScaleDivision       float64 // the smallest step of the scale, carats
	Source              string
}

// Material returns the material with a key.
func (s *Set) Material(key string) (Material, bool) { return find(s.Materials, key) }

// DomeStyle returns the dome style with a key.
func (s *Set) DomeStyle(key string) (DomeStyle, bool) { return find(s.DomeStyles, key) }

// BackStyle returns the back style with a key.
func (s *Set) BackStyle(key string) (BackStyle, bool) { return find(s.BackStyles, key) }

// Wall returns the wall with a key.
func (s *Set) Wall(key string) (Wall, bool) { return find(s.Walls, key) }

// Saw returns the saw with a key.
func (s *Set) Saw(key string) (Saw, bool) { return find(s.Saws, key) }

// CautionsFor returns the general cautions and those of a material, in the
// order of the table.
func (s *Set) CautionsFor(m Material) []Caution {
	var out []Caution
	for _, c := range s.Cautions {
		mine := c.General
		for _, key := range m.Cautions {
			mine = mine || key == c.Key
		}
		if mine {
			out = append(out, c)
		}
	}
	return out
}

// row is a line of a table that is found by a key.
type row interface{ key() string }

func (m Material) key() string  { return m.Key }
func (c Caution) key() string   { return c.Key }
func (d DomeStyle) key() string { return d.Key }
func (b BackStyle) key() string { return b.Key }
func (w Wall) key() string      { return w.Key }
func (s Saw) key() string       { return s.Key }
func (w Wheel) key() string     { return w.Key }

func find[R row](table []R, key string) (found R, ok bool) {
	for _, r := range table {
		if r.key() == key {
			return r, true
		}
	}
	return found, false
}
