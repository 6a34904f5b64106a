package cuts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/presets"
)

// Over a ball every flat that touches it at an angle of t is inclined by
// 90 degrees less t, and two such meet at r sin((s+t)/2)/cos((s-t)/2): for
// three, at 15, 45 and 75 degrees (plane geometry of tangents).
func TestBevelsOfABall(t *testing.T) {
	c := placed(t, "round", 10, 10, 5, 0, 0, 0, "").Solid
	c.Wall, c.WallLeanDeg = 0, 0
	bevels := Bevels(c)
	require.Len(t, bevels, 3)
	for i, deg := range []float64{15, 45, 75} {
		assert.InDelta(t, 90-deg, bevels[i].AcrossDeg, 1e-9)
		assert.InDelta(t, 90-deg, bevels[i].AlongDeg, 1e-9)
	}
	assert.InDelta(t, 5*math.Tan(7.5*math.Pi/180), bevels[0].Foot, 1e-9, "from the upright side")
	assert.InDelta(t, 5*math.Sin(math.Pi/6)/math.Cos(math.Pi/12), bevels[0].Head, 1e-9)
	assert.Equal(t, bevels[0].Head, bevels[1].Foot)
	flat := c
	flat.Dome = 0
	assert.Empty(t, Bevels(flat))
}

// No bevel cuts the dome, and each touches it: over the width, the flat from
// (x, foot) at its angle stays above the ellipse, exactly so at one place.
func TestBevelsTouchAndDoNotCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(6, 30).Draw(t, "length")
		width := length * rapid.Float64Range(0.5, 1).Draw(t, "width/length")
		c := placed(t, "oval", length, width, width*rapid.Float64Range(0.1, 0.5).Draw(t, "dome/width"), 0, 0, 0, "").Solid
		bevels := Bevels(c)
		for half, angle := range map[float64]func(Bevel) float64{
			c.Outline.Width / 2:  func(b Bevel) float64 { return b.AcrossDeg },
			c.Outline.Length / 2: func(b Bevel) float64 { return b.AlongDeg },
		} {
			x := half * c.RimRatio() // the upright side
			for _, b := range bevels {
				slope := math.Tan(angle(b) * math.Pi / 180)
				least := math.Inf(1)
				for k := 0; k <= 2000; k++ {
					s, cos := math.Sincos(float64(k) / 2000 * math.Pi / 2)
					over := b.Foot + (x-half*c.RimRatio()*cos)*slope - (c.Wall + c.Dome*s)
					least = math.Min(least, over)
				}
				require.GreaterOrEqual(t, least, -1e-9, "it cuts the dome")
				require.Less(t, least, 1e-4*c.Dome, "it stands off the dome")
				x -= (b.Head - b.Foot) / slope
			}
		}
	})
}

// What is left on a side is on both ends of a measure (the workshop table).
func TestTargets(t *testing.T) {
	c := placed(t, "oval", 14, 10, 3, 0, 0, 0, "").Solid
	got := Targets(c, presets.Builtin().Wheels)
	assert.Equal(t, Target{Step: "as sawn", Left: 1.25, Length: 16.5, Width: 12.5, Height: 6.7}, got[0])
	last := got[len(got)-1]
	assert.Equal(t, [3]float64{14, 10, 4.2}, [3]float64{last.Length, last.Width, last.Height})
}
