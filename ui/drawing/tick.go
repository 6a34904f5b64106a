package drawing

import (
	"math"
	"strconv"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/canvas"
)

// Tick is how far a mark that is not sure may go before it spoils the fit: a short
// line across it in a section.
type Tick struct {
	ID   string
	What odds.What // Depth, Top or Bottom
	UpTo float64   // mm, a depth or a height
}

// tickHalf is half of a tick's length, mm: as wide as a mark is seen at arm's length.
const tickHalf = 0.6

func (x *slicer) ticks() {
	for _, k := range x.scene.Ticks {
		for _, p := range x.scene.Stone.Pockets {
			if p.ID == k.ID {
				x.pocketTick(k, p)
			}
		}
		for _, c := range x.scene.Stone.Cracks {
			if c.ID == k.ID && k.What == odds.Depth {
				x.crackTick(k, c)
			}
		}
	}
}

// pocketTick crosses both walls of a pocket where its limit lies.
func (x *slicer) pocketTick(k Tick, p planner.Pocket) {
	for _, s := range both(x.spans, x.cut.through(p.Outline)) {
		for _, t := range []float64{s.from, s.to} {
			z := k.UpTo
			if low, high := x.heights(t); k.What == odds.Depth && p.Face == planner.Base {
				z = low + k.UpTo
			} else if k.What == odds.Depth {
				z = high - k.UpTo
			}
			x.tick(geometry.Vec2{X: t, Y: z}, k)
		}
	}
}

// crackTick crosses a crack's sheet where it is as deep as its limit.
func (x *slicer) crackTick(k Tick, c planner.Crack) {
	path := extended(c)
	for i := 1; i < len(path); i++ {
		for _, line := range x.meets(c, path[i-1], path[i], math.Max(0, k.UpTo-tickHalf), k.UpTo) {
			x.tick(line[len(line)-1], k)
		}
	}
}

func (x *slicer) tick(at geometry.Vec2, k Tick) {
	if !x.holds(at.X, at.Y) {
		return
	}
	x.c.Line(at.Add(geometry.Vec2{X: -tickHalf}), at.Add(geometry.Vec2{X: tickHalf}), canvas.Pen{Class: canvas.Limit})
	if x.scene.Names && !x.scene.Bare {
		x.add(
			label{
				text:    strconv.FormatFloat(k.UpTo, 'f', 1, 64),
				class:   canvas.Limit,
				matters: figureMatters,
				near:    []geometry.Vec2{at},
			},
		)
	}
}
