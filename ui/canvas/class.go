package canvas

// Class says what a cell shows. It decides the colour, which the canvas itself
// never chooses; shapes stay told apart by their strokes where there is none.
type Class uint8

// The classes. The zero Class is bare ground and is never painted.
const (
	Ground    Class = iota
	Grid            // crossings of the millimetre grid
	Scale           // scale bar and its figure
	Label           // names and figures on the drawing
	Edge            // the rough's outline and its two surfaces
	Corner          // a corner of the outline
	Reading         // a caliper or depth-gauge reading
	Crack           // an open crack
	Sealed          // a crack filled with thin cyanoacrylate
	RunOn           // where a crack is likely to run next
	Pocket          // sand, clay or a hollow
	Colour          // a zone with play-of-colour
	Girdle          // a fit's girdle outline or its section
	Dome            // a fit's dome rim and crown
	Allowance       // the ring or band a fit keeps free about itself
	Limit           // whatever limits a fit
	Chosen          // what is selected now
	Cursor          // the pointer of the keyboard
	CutLine         // the line a section is cut along
	SawCut          // a saw cut
	Shadow          // the best fit, shown faintly
	Unsure          // how far a depth may go that is not known well
	Refused         // what an edit was refused for
	Classes         // how many classes there are
)
