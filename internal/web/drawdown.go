package web

import (
	"fmt"
	"strings"

	"waketwist/cloth"
)

// drawdown is a weave as squares, one for each end over a pick.
type drawdown struct {
	W, H  int
	Path  string
	Words string
}

// mostDrawn is how many threads a drawing of a weave shows either way.
const mostDrawn = 24

// drawdownOf draws two repeats of a weave, or as much as there is room for.
func drawdownOf(w cloth.Weave) *drawdown {
	d := &drawdown{W: min(mostDrawn, max(8, 2*w.Ends())), H: min(mostDrawn, max(8, 2*w.Picks()))}
	var path strings.Builder
	for pick := range d.H {
		for end := range d.W {
			if w.Up(end, pick) {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", end, d.H-1-pick)
			}
		}
	}
	d.Path = path.String()
	d.Words = fmt.Sprintf("The weave: %d ends and %d picks in a repeat, %d shafts", w.Ends(), w.Picks(), w.Shafts())
	return d
}
