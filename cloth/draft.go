package cloth

// Draft is a weave as it is tied on a loom with treadles. Shafts and treadles
// are counted from 1.
type Draft struct {
	Threading []int   // the shaft of each end, from the left
	TieUp     [][]int // the shafts that each treadle lifts
	Treadling []int   // the treadle of each pick, the first woven first
	Shafts    int     // of the loom; 0 takes the highest that is threaded
}

// Weave returns the drawdown that the draft makes. It refuses with an *Error a
// list that names what is not there, and what Drawdown refuses.
func (d Draft) Weave() (Weave, error) {
	if err := d.check(); err != nil {
		return Weave{}, err
	}
	up := make([][]bool, len(d.Treadling))
	for pick, treadle := range d.Treadling {
		row := make([]bool, len(d.Threading))
		lifted := map[int]bool{}
		for _, shaft := range d.TieUp[treadle-1] {
			lifted[shaft] = true
		}
		for end, shaft := range d.Threading {
			row[end] = lifted[shaft]
		}
		up[len(up)-1-pick] = row
	}
	return Drawdown(up)
}

func (d Draft) check() error {
	if len(d.Threading) == 0 || len(d.TieUp) == 0 || len(d.Treadling) == 0 {
		return refuse("Give all three lists.", "A draft needs a threading, a tie-up and a treadling.")
	}
	if max(len(d.Threading), len(d.Treadling), len(d.TieUp)) > MaxThreads {
		return refuse("Give one repeat only.", "A draft of more than %d threads or treadles is not taken.", MaxThreads)
	}
	shafts := d.Shafts
	for _, shaft := range d.Threading {
		if d.Shafts == 0 {
			shafts = max(shafts, shaft)
		}
		if shaft < 1 || shaft > shafts {
			return refuse("Thread on shafts that the loom has, counted from 1.", "The threading names shaft %d of %d.", shaft, shafts)
		}
	}
	for i, tied := range d.TieUp {
		for _, shaft := range tied {
			if shaft < 1 || shaft > shafts {
				return refuse("Tie to shafts that are there, counted from 1.", "Treadle %d is tied to shaft %d, and there are %d.", i+1, shaft, shafts)
			}
		}
	}
	for _, treadle := range d.Treadling {
		if treadle < 1 || treadle > len(d.TieUp) {
			return refuse("Tie every treadle that is used, counted from 1.", "The treadling names treadle %d, and %d are tied.", treadle, len(d.TieUp))
		}
	}
	return nil
}
