package cuts

import "math"

// smallLump is the volume below which a loose part is dust, mm3 (the plan's
// contract).
const smallLump = 1

// lumps counts the separate parts of a piece of 1 mm3 or more. Where the lattice shows
// several, one three times as fine is asked: on a large rough a thin wedge can fall through
// the first.
func (b *Body) lumps(sides []half) int {
	if n := b.lumpsSeen(sides); n < 2 || b.step <= latticeStep {
		return n
	}
	fine := &Body{Rough: b.Rough}
	fine.lay(math.Max(latticeStep, b.step/3))
	return fine.lumpsSeen(sides)
}

// lumpsSeen counts on the lattice: columns side by side hang together where they overlap
// in height.
func (b *Body) lumpsSeen(sides []half) int {
	parent := make([]int32, len(b.columns))
	low, high := make([]float64, len(b.columns)), make([]float64, len(b.columns))
	for i := range b.columns {
		parent[i] = int32(i)
		low[i], high[i] = clipAll(&b.columns[i], sides)
	}
	find := func(i int) int {
		for int(parent[i]) != i {
			parent[i] = parent[parent[i]]
			i = int(parent[i])
		}
		return i
	}
	join := func(i, j int) {
		if i >= 0 && j >= 0 && high[i] > low[i] && high[j] > low[j] && min(high[i], high[j]) > max(low[i], low[j]) {
			parent[find(i)] = int32(find(j))
		}
	}
	for y, row := range b.index {
		for x, i := range row {
			if x > 0 {
				join(i, row[x-1])
			}
			if y > 0 && x < len(b.index[y-1]) {
				join(i, b.index[y-1][x])
			}
		}
	}
	volume := map[int]float64{}
	for i := range b.columns {
		if high[i] > low[i] {
			volume[find(i)] += (high[i] - low[i]) * b.step * b.step
		}
	}
	count := 0
	for _, v := range volume {
		if v >= smallLump {
			count++
		}
	}
	return count
}
