package finish

import (
	"waketwist/estimate"
	"waketwist/unit"
)

// Regain is the water in a fibre as a share of its dry mass.
type Regain float64

// StandardRegain of wool is that of the trade in scoured wool (IWTO, 16 %), the
// reference at which skeins are compared here.
const StandardRegain Regain = 0.16

// woolRegain is the regain of wool at 0, 10 ... 100 % relative humidity and room
// temperature (merino, from memory; 33 % at saturation). Wool that dries towards
// a humidity holds some 2 % more than wool that takes it up.
var woolRegain = [...]Regain{0, 0.047, 0.070, 0.089, 0.108, 0.128, 0.149, 0.172, 0.199, 0.234, 0.33}

// WoolRegain returns the regain of wool at a relative humidity of 0 to 100 %,
// with a spread of one per cent for fibre, temperature and history.
func WoolRegain(humidityPercent float64) estimate.Estimate[Regain] {
	at := min(max(humidityPercent, 0), 100) / 10
	i := min(int(at), len(woolRegain)-2)
	part := Regain(at - float64(i))
	r := woolRegain[i]*(1-part) + woolRegain[i+1]*part
	const sd = 0.01
	return estimate.Estimate[Regain]{
		Value: r, SD: sd, Low: max(0, r-estimate.Reach*sd), High: r + estimate.Reach*sd, Flags: estimate.Flags{estimate.Modelled},
	}
}

// Conditioned returns the mass that a skein weighed at one regain would have at
// another; linear density goes the same way.
func Conditioned(m unit.Mass, at, to Regain) unit.Mass {
	return m * unit.Mass((1+to)/(1+at))
}
