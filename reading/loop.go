package reading

// Where a yarn ends in a loop, its strands part and ground shows between them.
const (
	openBand   = 0.12 // of the width, to either side of the middle, where ground is looked for
	openLength = 0.25 // widths along the yarn over which it shows
	openPart   = 3    // a loop lies within this part of the yarn from either end
)

// laid returns the columns [from, to) over which the strands lie together, without
// a loop at either end: there they turn less and lie wider than in the yarn.
func (b *body) laid() (from, to int) {
	n := b.cols()
	from, to = 0, n
	run := 0
	least := max(int(openLength*colsPerBody), 1)
	for i := range n {
		if !b.open(i) {
			run = 0
			continue
		}
		if run++; run < least {
			continue
		}
		if i < n/openPart {
			from = i + 1
		} else if first := i - run + 1; first >= n-n/openPart {
			to = min(to, first)
		}
	}
	return from, to
}

// open reports whether ground shows in the middle of the yarn at a column.
func (b *body) open(i int) bool {
	c := b.cut
	at := b.place[i] / c.strip.along.step
	mid, reach := between(b.mid, at), openBand*b.width
	var sum float64
	for j := c.row(mid - reach); j <= c.row(mid+reach); j++ {
		sum += float64(c.evidence.At(at, float64(j)))
	}
	return sum < 0
}
