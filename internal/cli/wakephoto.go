package cli

import (
	"fmt"
	"os"
	"strings"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/raster"
	"waketwist/reading"
	"waketwist/rest"
	"waketwist/yarn"
)

// sampled is a photograph of a sample as it was read.
type sampled struct {
	look
	state estimate.State
}

// photograph reads the photographs into the bobbin's clips and returns what
// each showed. Every photograph that cannot be used is named on Stderr.
func (c *wakeCmd) photograph(a *app, b *rest.Bobbin) ([]sampled, error) {
	var photos []string
	var out []sampled
	for _, s := range []struct {
		names texts
		state estimate.State
	}{{c.Dry, estimate.Rested}, {c.Rewet, estimate.Rewet}, {c.RewetDried, estimate.RewetDried}} {
		names, err := expand(s.names.files())
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			photos = append(photos, name)
			out = append(out, sampled{state: s.state})
		}
	}
	refused := false
	err := lookAtAll(a, photos, howto{read: plyBack}, func(i int, l look) error {
		out[i].look = l
		if l.refused != "" {
			refused = true
			fmt.Fprintf(a.Stderr, "waketwist: %s (%s): %s\n", oneLine(l.photo), stateOf(out[i].state), oneLine(l.refused))
		}
		return nil
	})
	if err == nil && refused {
		err = errReported
	}
	if err != nil {
		return nil, err
	}
	for _, s := range out {
		s.into(b)
	}
	return out, nil
}

// stateOf names a sample's state. How long it rested is not known here.
func stateOf(s estimate.State) string {
	if s.Dry() {
		return "dry"
	}
	return job.StateWords(s)
}

// files parts names at commas, unless there is a file of the whole name.
func (t texts) files() (out []string) {
	for _, name := range t {
		if _, err := os.Stat(name); err == nil {
			out = append(out, name)
			continue
		}
		for part := range strings.SplitSeq(name, ",") {
			if part = strings.TrimSpace(part); part != "" {
				out = append(out, part)
			}
		}
	}
	return out
}

// plyBack reads a ply-back, which has two strands. It looks first without that
// knowledge, so that singles photographed by mistake are told, and a picture
// that shows another number of strands is flagged.
func plyBack(p *raster.Photo, l *look) error {
	first := reading.Read(p, reading.Options{})
	l.reading = first
	switch {
	case first.Readable && first.Structure == reading.Singles:
		return words("This shows singles; fold a length back on itself so that it plies up.")
	case first.Readable && first.Plies == 2:
		return nil
	case !first.Readable && first.Reason != reading.UnsureReading:
		return nil
	}
	l.reading = reading.Read(p, reading.Options{Plies: 2})
	if l.reading.Readable && first.Readable && !l.reading.Has(reading.UnsurePlies) {
		l.reading.Flags = append(l.reading.Flags, reading.UnsurePlies)
	}
	return nil
}

// into adds the reading to the bobbin. Photographs of one state are one clip as
// long as their directions agree; a clip of its own lets rest.Wake see that
// they do not.
func (s sampled) into(b *rest.Bobbin) {
	direction := s.reading.Direction
	clip := clipOf(b, s.state)
	if clip.Direction != yarn.NoDirection && direction != yarn.NoDirection && clip.Direction != direction {
		b.Clips = append(b.Clips, rest.Clip{State: s.state})
		clip = &b.Clips[len(b.Clips)-1]
	}
	if direction != yarn.NoDirection {
		clip.Direction = direction
	}
	clip.Readings = append(clip.Readings, rest.Reading{
		Angle: s.reading.Angle.Value,
		Line:  yarn.StrandCentre,
		SD:    max(s.reading.Angle.SD, rest.PhotographSD),
	})
}
