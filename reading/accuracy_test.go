package reading

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"waketwist/raster"
)

var (
	truthDir = flag.String("truth", "testdata", "folder with pictures and a truth.csv to judge the reading by")
	part     = flag.Int("part", -1, "judge only pictures whose number modulo 3 is (0 to 2) this; 3 means all but 2")
	misses   = flag.Bool("misses", false, "print one line a picture")
)

// truth is one row of truth.csv. Numbers that are not given are NaN.
type truth struct {
	file, why, direction string
	readable             bool
	plies                int
	angle, width, pitch  float64
	turns                float64
}

// outcome is a truth with what was read.
type outcome struct {
	truth
	reading           Reading
	decoding, seconds float64 // spent on decoding, and beyond it
}

func (o outcome) degrees() float64    { return o.reading.Angle.Value.Degrees() }
func (o outcome) angleError() float64 { return math.Abs(o.degrees() - o.angle) }
func (o outcome) held() bool {
	a := o.reading.Angle
	return a.Low.Degrees() <= o.angle && o.angle <= a.High.Degrees()
}

func readTruth(t *testing.T, dir string) []truth {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, "truth.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	var out []truth
	for _, row := range rows[1:] {
		text := func(name string) string {
			if i, ok := column[name]; ok {
				return row[i]
			}
			return ""
		}
		number := func(name string) float64 {
			v, err := strconv.ParseFloat(text(name), 64)
			if err != nil {
				return math.NaN()
			}
			return v
		}
		plies, _ := strconv.Atoi(text("plies"))
		out = append(out, truth{file: text("file"), why: text("unreadable_why"), direction: text("direction"),
			readable: text("readable") == "1", plies: plies, angle: number("angle_deg"),
			width: number("envelope_px"), pitch: number("pitch_px"), turns: number("turns")})
	}
	return out
}

func loadPhoto(t testing.TB, path string) *raster.Photo {
	t.Helper()
	return raster.NewPhoto(decode(t, path), 1)
}

func judge(t *testing.T, dir string) []outcome {
	t.Helper()
	var out []outcome
	for i, tr := range readTruth(t, dir) {
		if *part >= 0 && *part < 3 && i%3 != *part || *part == 3 && i%3 == 2 {
			continue
		}
		start := time.Now()
		photo := loadPhoto(t, filepath.Join(dir, tr.file))
		decoded := time.Now()
		r := Read(photo, Options{})
		out = append(out, outcome{tr, r, decoded.Sub(start).Seconds(), time.Since(decoded).Seconds()})
	}
	return out
}

func printLine(o outcome) {
	r := o.reading
	if !r.Readable {
		fmt.Printf("%-28s refused %-10s (truth %v %s %d%s %.1f)\n", o.file, r.Reason, o.readable, o.why, o.plies, o.direction, o.angle)
		return
	}
	mark := ""
	if o.readable && r.Direction.String() != o.direction {
		mark += " DIRECTION"
	}
	if o.readable && r.Plies != o.plies {
		mark += " PLIES"
	}
	if o.angleError() > 3 {
		mark += " ANGLE"
	}
	if !o.held() {
		mark += " interval"
	}
	fmt.Printf("%-28s %d%s %5.1f [%4.1f %4.1f] truth %d%s %5.1f  width %.1f/%.1f pitch %.1f/%.1f border %.1f%s %v\n", o.file, r.Plies, r.Direction,
		o.degrees(), r.Angle.Low.Degrees(), r.Angle.High.Degrees(), o.plies, o.direction, o.angle,
		r.Width.Value, o.width, r.Pitch.Value, o.pitch, r.Border.Degrees(), mark, r.Flags)
}

// score is a table of what was reached.
type score struct {
	readable, unreadable     int
	answered, falseAnswers   int
	wrongDirection, pliesOK  int
	held                     int
	errors                   map[int][]float64 // by true number of plies, 0 for all
	widthErrors, pitchErrors []float64         // relative, where enough is in view
	decoding, seconds        []float64
}

func tally(out []outcome) score {
	s := score{errors: map[int][]float64{}}
	for _, o := range out {
		r := o.reading
		s.decoding, s.seconds = append(s.decoding, o.decoding), append(s.seconds, o.seconds)
		if !o.readable {
			s.unreadable++
			if r.Readable {
				s.falseAnswers++
			}
			continue
		}
		s.readable++
		if !r.Readable {
			continue
		}
		s.answered++
		if r.Direction.String() != o.direction {
			s.wrongDirection++
		}
		if math.IsNaN(o.angle) {
			continue
		}
		if r.Plies == o.plies {
			s.pliesOK++
		}
		if o.held() {
			s.held++
		}
		s.errors[0] = append(s.errors[0], o.angleError())
		s.errors[o.plies] = append(s.errors[o.plies], o.angleError())
		s.addSizes(o)
	}
	return s
}

// addSizes counts errors of width and pitch where at least 40 pixels of width
// and, for a ply, three turns are in view.
func (s *score) addSizes(o outcome) {
	if !(o.width >= 40) {
		return
	}
	if o.plies == 1 || o.turns >= 3 {
		s.widthErrors = append(s.widthErrors, math.Abs(o.reading.Width.Value/o.width-1))
	}
	if o.plies > 1 && o.turns >= 3 && o.pitch > 0 {
		s.pitchErrors = append(s.pitchErrors, math.Abs(o.reading.Pitch.Value/o.pitch-1))
	}
}

func average(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x
	}
	return s / float64(max(len(v), 1))
}

func (s score) print() {
	fmt.Printf("%d readable pictures, %d that are not\n", s.readable, s.unreadable)
	fmt.Printf("| plies | read | MAE deg | median | P90 |\n|---|---|---|---|---|\n")
	keys := []int{}
	for k := range s.errors {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		name := strconv.Itoa(k)
		if k == 0 {
			name = "all"
		}
		e := s.errors[k]
		fmt.Printf("| %s | %d | %.2f | %.2f | %.2f |\n", name, len(e), average(e), median(e), quantile(e, 0.9))
	}
	n := max(len(s.errors[0]), 1)
	fmt.Printf("answered %.1f %%, wrong directions %d, false answers %d of %d\n",
		100*float64(s.answered)/float64(max(s.readable, 1)), s.wrongDirection, s.falseAnswers, s.unreadable)
	fmt.Printf("plies right %.1f %%, 90 %% interval holds the truth %.1f %%\n", 100*float64(s.pliesOK)/float64(n), 100*float64(s.held)/float64(n))
	fmt.Printf("width median error %.1f %% (%d), pitch %.1f %% (%d)\n", 100*median(s.widthErrors), len(s.widthErrors), 100*median(s.pitchErrors), len(s.pitchErrors))
	fmt.Printf("seconds for decoding: median %.3f; beyond it: median %.3f, most %.3f\n", median(s.decoding), median(s.seconds), quantile(s.seconds, 1))
}

// TestAccuracy reads every picture of a folder with a truth.csv and prints how
// far the readings lie from the truth.
func TestAccuracy(t *testing.T) {
	out := judge(t, *truthDir)
	if *misses {
		for _, o := range out {
			printLine(o)
		}
	}
	s := tally(out)
	s.print()
	for _, o := range out {
		if !o.readable && o.reading.Readable {
			t.Errorf("%s: read as %d-ply %v, but it is unreadable (%s)", o.file, o.reading.Plies, o.reading.Direction, o.why)
		}
		if o.readable && o.reading.Readable && o.reading.Direction.String() != o.direction {
			t.Errorf("%s: direction %v, want %s", o.file, o.reading.Direction, o.direction)
		}
	}
	const bound = 2.5 // degrees, on the pictures kept with the code
	if mae := average(s.errors[0]); *truthDir == "testdata" && mae > bound {
		t.Errorf("mean absolute error %.2f degrees, want at most %.1f", mae, bound)
	}
}
