package hand

import (
	"math"
	"sort"
	"sync"

	"waketwist/yarn"
)

// balanced is yarn.Balanced, held clear of the limit. A forecast asks for
// thousands, so for more than two strands it is read off a table.
func balanced(n int, k, t float64) yarn.CentreAngle {
	if n == 2 {
		y, _, _ := plyback(math.Log(t), math.Log(k))
		return yarn.CentreAngle(math.Atan(math.Exp(min(y, steepestWake))))
	}
	return yarn.CentreAngle(balances[n]().angle(k, t))
}

// balance tells the living twist at which a ply rests at angles in equal steps:
// it is straight in k, soft + k stiff.
type balance struct {
	step        float64 // radians
	soft, stiff []float64
}

// balanceSteps are enough that a straight line between two of them is off by less
// than a thousandth of a degree.
const balanceSteps = 1500

// balances holds the tables of 3 and 4 strands, made when first asked for.
var balances = map[int]func() balance{
	3: sync.OnceValue(func() balance { return newBalance(3) }),
	4: sync.OnceValue(func() balance { return newBalance(4) }),
}

func newBalance(n int) balance {
	edge := yarn.Limit(n) * 44 / 45
	t := balance{step: float64(edge) / balanceSteps}
	for i := range balanceSteps + 1 {
		at := yarn.CentreAngle(float64(i) * t.step)
		soft, err := yarn.LivingFor(n, 0, at)
		stiff, err2 := yarn.LivingFor(n, 1, at)
		if err != nil || err2 != nil { // cannot be: the edge is under the limit
			panic("hand: a balance past the limit")
		}
		t.soft, t.stiff = append(t.soft, float64(soft)), append(t.stiff, float64(stiff-soft))
	}
	return t
}

// angle is where strands of stiffness k and living twist t rest, in radians.
func (b balance) angle(k, t float64) float64 {
	at := func(i int) float64 { return b.soft[i] + k*b.stiff[i] }
	i := sort.Search(balanceSteps+1, func(i int) bool { return at(i) >= t })
	if i == 0 || i > balanceSteps {
		return b.step * float64(min(i, balanceSteps))
	}
	below, above := at(i-1), at(i)
	return b.step * (float64(i-1) + (t-below)/(above-below))
}
