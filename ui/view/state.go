package view

import (
	"time"

	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// Kind says what is selected.
type Kind int

// The kinds of thing that can be selected.
const (
	Nothing Kind = iota
	Corner       // of the rough's outline
	TopReading
	BaseReading
	Crack
	Pocket
	Zone
)

// Selection is the thing that the next action is about. Index counts in the
// stone's own list; Point is a point of a mark's path or outline, or -1.
type Selection struct {
	Kind  Kind
	Index int
	Point int
}

// State is what the views work on together. Only the event loop touches it.
type State struct {
	// Presets holds the materials, sizes and styles to choose from.
	Presets *presets.Set

	// Style and Glyphs say how the terminal is written on.
	Style  *style.Sheet
	Glyphs canvas.Mode

	// Cursor is where the next point goes, Step how far an arrow key moves it, mm.
	Cursor geometry.Vec2
	Step   float64

	Selected Selection
	// Doubtful holds, for each point that was set by mouse and not yet nudged or
	// typed, how far it can be off in x and in y, mm. A point that moves is no
	// longer in it.
	Doubtful map[geometry.Vec2]geometry.Vec2

	// Face is the face that is looked at and drawn on: Top or Base.
	Face planner.Face

	// Plan is the latest list of fits; it belongs to the stone as it was at
	// revision PlanOf. While a search runs, Searching is true and Progress, 0 to
	// 1, is that of the running search.
	Plan      search.Plan
	PlanOf    int
	Searching bool
	Progress  float64
	plans     int // lists taken so far
	planFor   int // the search's options, counted by searches, that Plan was found with
	// SearchTime is how long the running search has taken.
	SearchTime time.Duration

	// Chosen is the fit that is drawn on the stone, nil when none is; the pinned
	// ones are kept for comparison. Both outlive the search that found them.
	Chosen *search.Fit
	Pinned []search.Fit
	choice choice

	nearest drawing.LastNearest

	// Bets is what the plan is worth where marks are not sure.
	Bets Bets

	// Typed is a price a finished carat that counts in place of the presets' until
	// the workbench is left; nil: none is typed. What it points to never changes.
	Typed *worth.Span

	// Folder is what the stone files beside this one hold.
	Folder Folder

	// Rough and Site are made from the stone in the background. They belong to
	// revision RoughOf and may be nil; RoughErr says why there is no solid.
	Rough    *planner.Rough
	Site     Site
	OpenSite func(planner.Stone) (Site, error) // for a stone that is not this one; slow, may be nil
	RoughOf  int
	RoughErr error
	Mistakes []planner.Problem // what is wrong with the stone, as a reading of the base above the top
	remarks  []planner.Warning // on the stone that Rough was made from
	remarked bool              // some stone was looked at already

	options  search.Options
	searches int // counts changes of the options

	stones *planner.History
	undone bool // the latest change of the stone was an undo

	look   canvas.View // meaningless while fitted
	fitted bool

	status Status
	ask    *widget.Form
	left   *widget.Form // the one stepped back from last
}

// Site answers at once for a fit that is moved by hand; search.Site is one.
type Site interface {
	Clearance(body solid.Cabochon, pose search.Pose) search.Reading
	Settle(c search.Candidate, pose search.Pose, tiltMaxDeg float64) (search.Pose, search.Reading)
}

// NewState returns the state for a stone's history.
func NewState(stones *planner.History, set *presets.Set, sheet *style.Sheet, glyphs canvas.Mode) *State {
	s := &State{
		Presets: set, Style: sheet, Glyphs: glyphs, Step: 0.5, Face: planner.Top,
		stones: stones, fitted: true, PlanOf: -1, RoughOf: -1,
		Doubtful: map[geometry.Vec2]geometry.Vec2{},
	}
	s.Selected.Point = -1
	return s
}

// Stone returns the stone as it is now. Its slices are shared: read only.
func (s *State) Stone() planner.Stone { return s.stones.Stone() }

// Revision counts the changes made to the stone, undo and redo included.
func (s *State) Revision() int { return int(s.stones.Changes()) }

// Edit makes one stone of another, or says why it can't.
type Edit = func(planner.Stone) (planner.Stone, error)

// Do makes an undoable edit. A refused edit changes nothing, shows why, and
// returns the error for whoever has a better place to show it.
func (s *State) Do(name string, edit Edit) error {
	return s.edit(name, edit, s.stones.Do)
}

// Continue is Do for one of a row of small edits that are undone together, as
// the steps of a corner moved by the arrow keys: they bear the same name.
func (s *State) Continue(name string, edit Edit) error {
	return s.edit(name, edit, s.stones.Continue)
}

func (s *State) edit(name string, edit Edit, keep func(string, Edit) error) error {
	before := s.stones.Changes()
	if err := keep(name, edit); err != nil {
		s.Refuse(err)
		return err
	}
	if s.stones.Changes() != before {
		s.undone = false
		s.Say(style.Text, "%s", done(name))
	}
	return nil
}

// Undo takes the latest edit back and says so.
func (s *State) Undo() { s.walk(undone, s.stones.Undo) }

// undone is said of an edit that was taken back.
const undone = "Undone"

// Undone reports whether the latest change of the stone was an undo.
func (s *State) Undone() bool { return s.undone }

// Redo makes the edit again that was undone last and says so.
func (s *State) Redo() { s.walk("Done again", s.stones.Redo) }

func (s *State) walk(what string, step func() (string, error)) {
	name, err := step()
	if err != nil {
		s.Refuse(err)
		return
	}
	s.undone = what == undone
	s.Say(style.Text, "%s: %s.", what, name)
	s.Selected = Selection{Point: -1}
}

// History returns the edits, for whoever keeps them.
func (s *State) History() *planner.History { return s.stones }

// Options returns what the search is asked for.
func (s *State) Options() search.Options { return s.options }

// Current reports whether the list of fits is one of the stone as it is, found as is asked
// now. Until there is one, the old list stays on the screen.
func (s *State) Current() bool { return s.PlanOf == s.Revision() && s.planFor == s.searches }

// SetOptions asks the search for something else: it starts again.
func (s *State) SetOptions(o search.Options) {
	s.options = o
	s.searches++
}

// Searches counts the changes of the search's options.
func (s *State) Searches() int { return s.searches }
