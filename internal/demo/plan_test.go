package demo

import (
	"testing"

	"waketwist/plan"
)

// TestPlansByHand holds the three plans to hand arithmetic: every loss divided
// out, at the middle of its range, which of a loss is the geometric mean of what
// its ends leave.
func TestPlansByHand(t *testing.T) {
	tests := []struct {
		file, field string
		want        float64 // in the unit of the line's key
	}{
		// 18 in / 0.8843 / 0.9247 in the reed; 12 of them an inch; 40 in / 0.8843 /
		// 0.8986 and 31.18 in of waste; 264 ends and 542.8 picks 5 % longer than the
		// reed, and a tenth more, at 1,597 yd/lb; 0.9649 and 0.8746 of it left by
		// spinning and samples.
		{"cushion", "cloth.reed-width", 0.5591},
		{"cushion", "cloth.ends", 264},
		{"cushion", "cloth.warp-length", 2.0704},
		{"cushion", "cloth.warp", 546.6},
		{"cushion", "cloth.weft", 318.7},
		{"cushion", "yarn.length", 951.8},
		{"cushion", "yarn.mass", 295.7},
		{"cushion", "yarn.length-at-wheel", 1029.4},
		{"cushion", "fibre.bought", 350.3},
		// 3.699 g on 100 cm2, 2 x 22 x 52 cm, and a tenth more; 314.6 m in 100 g;
		// 0.9 of the fibre left by carding.
		{"socks", "yarn.mass", 93.09},
		{"socks", "yarn.length", 292.9},
		{"socks", "yarn.length-at-wheel", 311.7},
		{"socks", "fibre.bought", 122.6},
		// 60 h of spinning two strands, 2.6 % longer than the ply, at 138.6 m/h and of
		// plying at 346.4 m/h are 3,391 m; washed 3,187 m, and 507 ends.
		{"shawl", "yarn.length-at-wheel", 3391},
		{"shawl", "yarn.length", 3187},
		{"shawl", "cloth.ends", 507},
		{"shawl", "cloth.length", 1.948},
		{"shawl", "yarn.grist", 69.7},
		{"shawl", "fibre.bought", 588.4},
	}
	results := map[string]*plan.Result{}
	for _, p := range Plans {
		w, problems := plan.Read(Plan(p.File))
		if len(problems) > 0 {
			t.Fatal(p.File, problems)
		}
		r, err := plan.Solve(w)
		if err != nil {
			t.Fatal(p.File, err)
		}
		if len(r.Conflicts) > 0 {
			t.Errorf("%s contradicts itself: %v", p.Name, r.Conflicts)
		}
		results[p.File] = r
	}
	for _, tt := range tests {
		line, ok := results[tt.file].LineOf(tt.field)
		if off := line.Value/tt.want - 1; !ok || off > 0.005 || off < -0.005 {
			t.Errorf("%s, %s: %.5g, by hand %.5g", tt.file, tt.field, line.Value, tt.want)
		}
	}
}
