package web

import (
	"fmt"
	"math"
	"strings"

	"waketwist/rest"
	"waketwist/unit"
)

// meetingView is a chart of which layers meet along the ply, with its verdict.
type meetingView struct {
	Words   string
	Strands []strandLine
	Gap     string   // points of the gap's line
	Band    string   // points of the outline of its 90 % interval
	Shows   float64  // height of the line from which a ply shows it
	Ages    []string // labels of the age axis, oldest first
	Cases   []string // what each way of rewinding does
	Notes   []string
}

// strandLine is the age of one strand along the ply.
type strandLine struct {
	Name   string
	Points string
	Dash   string // patterns tell the strands apart, not colours
	LabelY float64
}

// The chart's two panels, in its own units.
const (
	chartWidth  = 600.0
	panelHeight = 150.0
	headroom    = 24.0 // above the oldest age, for its label
	lineOfText  = 16.0
	widestGap   = 20 * unit.Degree
)

var dashes = []string{"", "10 6", "3 5", "14 5 3 5"}

func meetingOf(m *rest.Meeting) *meetingView {
	v := &meetingView{Words: m.Words(), Shows: gapHeight(rest.PlyShows)}
	oldest := m.Stations[0].Ages[0]
	for _, s := range m.Stations {
		for _, age := range s.Ages {
			oldest = max(oldest, age)
		}
	}
	for i, name := range m.Names {
		line := strandLine{Name: name, Dash: dashes[i%len(dashes)]}
		var points strings.Builder
		for _, s := range m.Stations {
			y := panelHeight - (panelHeight-headroom)*s.Ages[i].Hours()/max(oldest.Hours(), 1)
			fmt.Fprintf(&points, "%.1f,%.1f ", chartWidth*float64(s.Along), y)
			if s.Along == 0 {
				line.LabelY = v.free(min(max(y-6, 12), panelHeight-4))
			}
		}
		line.Points = points.String()
		v.Strands = append(v.Strands, line)
	}
	v.gap(m)
	v.Ages = []string{ago(oldest), "just spun"}
	for _, c := range m.Cases {
		v.Cases = append(v.Cases, caseWords(m, c))
	}
	return v
}

// free is the height of a label, above its line unless another one stands there.
func (v *meetingView) free(y float64) float64 {
	for _, other := range v.Strands {
		if math.Abs(other.LabelY-y) < lineOfText {
			return min(other.LabelY+lineOfText+8, panelHeight-4)
		}
	}
	return y
}

// gap draws the difference of the dry looks with its interval.
func (v *meetingView) gap(m *rest.Meeting) {
	var line, back strings.Builder
	var under []string
	for _, s := range m.Stations {
		x, g := chartWidth*float64(s.Along), s.Gap.Look
		fmt.Fprintf(&line, "%.1f,%.1f ", x, gapHeight(g.Value))
		fmt.Fprintf(&back, "%.1f,%.1f ", x, gapHeight(g.High))
		under = append([]string{fmt.Sprintf("%.1f,%.1f", x, gapHeight(g.Low))}, under...)
	}
	v.Gap, v.Band = line.String(), back.String()+strings.Join(under, " ")
}

func gapHeight(a unit.Angle) float64 {
	return panelHeight * (1 - float64(min(a/widestGap, 1)))
}

func caseWords(m *rest.Meeting, c rest.Case) string {
	var names []string
	for i, r := range c.Rewound {
		if r {
			names = append(names, m.Names[i])
		}
	}
	what := "as they stand"
	if len(names) > 0 {
		what = "with " + strings.Join(names, " and ") + " wound over once more, sideways"
	}
	return fmt.Sprintf("%s: up to %.0f° apart (%.0f° to %.0f°)", what, c.Largest.Value.Degrees(), c.Largest.Low.Degrees(), c.Largest.High.Degrees())
}
