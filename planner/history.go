package planner

import "errors"

// The history keeps at most maxSteps edits (a full day at one every three
// seconds) and at most maxHistoryBytes of what they do not share with one
// another: a sixth of the 200 MB the whole program may take. The oldest go
// first, an eighth at a time.
const (
	maxSteps        = 10_000
	maxHistoryBytes = 32 << 20
)

// History is a stone with its edits, undoable by name. Stones share what an
// edit left alone, so that a step costs what it changed. It is not safe for use
// by several goroutines.
type History struct {
	steps    []step // steps[0] has no edit: it is the oldest stone kept
	now      int
	bytes    int // cost of steps[1:]
	changes  uint64
	saved    Stone
	maxBytes int
}

// step is a stone and the name of the edit that made it.
type step struct {
	edit  string
	stone Stone
	bytes int
}

// NewHistory begins a history with a stone that counts as saved.
func NewHistory(s Stone) *History {
	return &History{steps: []step{{stone: s}}, saved: s, maxBytes: maxHistoryBytes}
}

// Stone returns the stone as it is now.
func (h *History) Stone() Stone { return h.steps[h.now].stone }

// Changes counts every edit, undo and redo so far: a larger number belongs to a
// later state.
func (h *History) Changes() uint64 { return h.changes }

// Do makes an edit and keeps it under a name ("Move corner 3"); what was undone
// is forgotten. A refused edit changes nothing and its error comes back. An edit
// that changes nothing is not kept.
func (h *History) Do(name string, edit func(Stone) (Stone, error)) error {
	next, err := edit(h.Stone())
	if err != nil || next.Equal(h.Stone()) {
		return err
	}
	h.forgetUndone()
	cost := ownBytes(next, h.Stone())
	h.steps = append(h.steps, step{edit: name, stone: next, bytes: cost})
	h.bytes += cost
	h.now++
	h.changes++
	h.dropOldest()
	return nil
}

// Continue makes an edit a part of the latest one: a drag is one edit however
// many places it passes. Without an edit of that name just before, it is Do.
func (h *History) Continue(name string, edit func(Stone) (Stone, error)) error {
	if h.now == 0 || h.steps[h.now].edit != name {
		return h.Do(name, edit)
	}
	next, err := edit(h.Stone())
	if err != nil || next.Equal(h.Stone()) {
		return err
	}
	h.forgetUndone()
	cost := ownBytes(next, h.steps[h.now-1].stone)
	h.bytes += cost - h.steps[h.now].bytes
	h.steps[h.now] = step{edit: name, stone: next, bytes: cost}
	h.changes++
	h.dropOldest()
	return nil
}

// The errors of an Undo and a Redo that have nothing to do.
var (
	ErrNothingToUndo = errors.New("nothing to undo")
	ErrNothingToRedo = errors.New("nothing to redo")
)

// Undo goes back by one edit and returns its name, or ErrNothingToUndo.
func (h *History) Undo() (name string, err error) {
	if h.now == 0 {
		return "", ErrNothingToUndo
	}
	h.now--
	h.changes++
	return h.steps[h.now+1].edit, nil
}

// Redo makes the edit again that was undone last and returns its name, or
// ErrNothingToRedo.
func (h *History) Redo() (name string, err error) {
	if h.now+1 == len(h.steps) {
		return "", ErrNothingToRedo
	}
	h.now++
	h.changes++
	return h.steps[h.now].edit, nil
}

// Names returns the names of the edits that can be undone, the latest last, and
// of those that can be made again, the next first.
func (h *History) Names() (undo, redo []string) {
	for i, s := range h.steps[1:] {
		if i < h.now {
			undo = append(undo, s.edit)
		} else {
			redo = append(redo, s.edit)
		}
	}
	return undo, redo
}

// Next returns the name of the edit that Undo and that Redo would take; empty
// when there is none.
func (h *History) Next() (undo, redo string) {
	if h.now > 0 {
		undo = h.steps[h.now].edit
	}
	if h.now+1 < len(h.steps) {
		redo = h.steps[h.now+1].edit
	}
	return undo, redo
}

// Before returns the stone that Undo would bring back; ok is false when there is
// nothing to undo.
func (h *History) Before() (stone Stone, ok bool) {
	if h.now == 0 {
		return Stone{}, false
	}
	return h.steps[h.now-1].stone, true
}

// Saved notes that a stone is what the file holds.
func (h *History) Saved(s Stone) { h.saved = s }

// Dirty reports whether the stone differs from what the file holds.
func (h *History) Dirty() bool { return !h.Stone().Equal(h.saved) }

func (h *History) forgetUndone() {
	for _, s := range h.steps[h.now+1:] {
		h.bytes -= s.bytes
	}
	clear(h.steps[h.now+1:])
	h.steps = h.steps[:h.now+1]
}

// dropOldest lets the oldest steps go when there are too many. The latest edit stays,
// whatever it costs.
func (h *History) dropOldest() {
	if len(h.steps)-1 <= maxSteps && h.bytes <= h.maxBytes {
		return
	}
	drop := 0
	for drop < h.now-1 && (len(h.steps)-1-drop > maxSteps*7/8 || h.bytes > h.maxBytes/8*7) {
		drop++
		h.bytes -= h.steps[drop].bytes
	}
	h.steps = append([]step(nil), h.steps[drop:]...)
	h.steps[0].edit, h.steps[0].bytes = "", 0
	h.now -= drop
}
