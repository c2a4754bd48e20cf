package journal

import (
	"testing"
	"time"

	"waketwist/unit"
	"waketwist/yarn"
)

func TestRunCheck(t *testing.T) {
	good := func() Run {
		return Run{
			Name: "first evening", Plan: Plan{Strands: 2}, Direction: yarn.S, Started: dawn, Ended: ptr(dawn),
			Feeds: []Feed{{Bobbin: 1, Rewound: 2, OverEnd: &OverEnd{yarn.S, 60 * unit.Millimetre}}, {Bobbin: 2}},
			Drive: Drive{Ratio: ptr(9.5), RPM: ptr(600.0), Draw: ptr(60 * unit.Centimetre), Beat: ptr(3 * time.Second)},
		}
	}
	chain := func(r *Run) { r.Plan, r.Feeds = Plan{Strands: 3, Chain: true}, r.Feeds[:1] }
	checkAll(t, good, []checked[Run]{
		{"no name", func(r *Run) { r.Name = " " }, "name", "Give the run a name"},
		{"no plan", func(r *Run) { r.Plan = Plan{} }, "strands", "not 0"},
		{"no direction there is", func(r *Run) { r.Direction = 'X' }, "direction", "S or Z"},
		{"no direction", func(r *Run) { r.Direction = yarn.NoDirection }, "", ""},
		{"goes on", func(r *Run) { r.Ended = nil }, "", ""},
		{"not started", func(r *Run) { r.Started = time.Time{} }, "started", "year 1 cannot be meant"},
		{"backwards", func(r *Run) { *r.Ended = dawn.Add(-1) }, "ended", "before it started"},
		{"ends far ahead", func(r *Run) { *r.Ended = dawn.AddDate(974, 0, 0) }, "ended", "year 3000"},
		{"too long a note", func(r *Run) { r.Note = longNote + "s" }, "note", "longer than 4000 letters"},

		{"nothing fed", func(r *Run) { r.Feeds = nil }, "feeds", "Choose the bobbins"},
		{"both ends of one bobbin", func(r *Run) { r.Feeds = r.Feeds[:1] }, "", ""},
		{"more bobbins than strands", func(r *Run) { r.Feeds = append(r.Feeds, Feed{Bobbin: 3}) }, "feeds", "3 bobbins are more than 2 strands"},
		{"chain-ply", chain, "", ""},
		{"chain-ply of two bobbins", func(r *Run) { chain(r); r.Feeds = r.Feeds[:2] }, "feeds", "made from one bobbin"},
		{"one bobbin twice", func(r *Run) { r.Feeds[1].Bobbin = 1 }, "feeds", "chosen twice"},
		{"wound over too often", func(r *Run) { r.Feeds[0].Rewound = 3 }, "feeds", "wound over 3 times"},
		{"wound over less than never", func(r *Run) { r.Feeds[0].Rewound = -1 }, "feeds", "wound over -1 times"},
		{"wound sideways", func(r *Run) { r.Feeds[0].OverEnd = nil }, "", ""},
		{"over the end without winding", func(r *Run) { r.Feeds[0].Rewound = 0 }, "feeds", "at least once"},
		{"over the end adding nothing", func(r *Run) { r.Feeds[0].OverEnd.Adds = yarn.NoDirection }, "feeds", "clockwise adds Z"},
		{"too small a package", func(r *Run) { r.Feeds[0].OverEnd.Package = 4 * unit.Millimetre }, "package", "A package of "},
		{"too great a package", func(r *Run) { r.Feeds[0].OverEnd.Package = 1.1 * unit.Metre }, "package", "A package of "},
		{"no package", func(r *Run) { r.Feeds[0].OverEnd.Package = unit.Length(nan) }, "package", "cannot be meant"},

		{"no drive", func(r *Run) { r.Drive = Drive{} }, "", ""},
		{"too slow a wheel", func(r *Run) { *r.Drive.Ratio = 0.4 }, "ratio", "0.4 flyer turns a treadle"},
		{"too fast a wheel", func(r *Run) { *r.Drive.Ratio = 201 }, "ratio", "201 flyer turns a treadle"},
		{"no ratio", func(r *Run) { *r.Drive.Ratio = nan }, "ratio", "cannot be meant"},
		{"too slow a motor", func(r *Run) { *r.Drive.RPM = 0 }, "rpm", "0 turns a minute"},
		{"too fast a motor", func(r *Run) { *r.Drive.RPM = 10_001 }, "rpm", "turns a minute cannot be meant"},
		{"no speed", func(r *Run) { *r.Drive.RPM = nan }, "rpm", "cannot be meant"},
		{"too short a draw", func(r *Run) { *r.Drive.Draw = 9 * unit.Millimetre }, "draw", "A draw of "},
		{"too long a draw", func(r *Run) { *r.Drive.Draw = 11 * unit.Metre }, "draw", "A draw of "},
		{"no draw", func(r *Run) { *r.Drive.Draw = unit.Length(nan) }, "draw", "cannot be meant"},
		{"too short a beat", func(r *Run) { *r.Drive.Beat = 99 * time.Millisecond }, "beat", "A beat of 99ms"},
		{"too long a beat", func(r *Run) { *r.Drive.Beat = 11 * time.Minute }, "beat", "A beat of 11m0s"},
	})
}
