package web

import (
	"context"
	"fmt"
	"net/http"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/yarn"
)

// home is where a sample belongs: a bobbin, a run of plying, or a skein.
type home struct {
	Name    string
	Address string // of the page that shows the sample
	Strands int    // of the yarn that is read; 2 for a ply-back, 1 for singles
	Turns   yarn.Direction
	bobbin  *journal.Bobbin // nil unless the sample is a ply-back of one
}

// homeOf finds where a sample belongs.
func (b *bench) homeOf(ctx context.Context, s journal.Sample) (home, error) {
	switch {
	case s.Run != 0:
		run, err := b.Store.Run(ctx, s.Run)
		if err != nil {
			return home{}, err
		}
		return home{Name: run.Name, Address: fmt.Sprintf("/run/%d#checks", run.ID), Strands: run.Plan.Strands, Turns: run.Direction}, nil
	case s.Skein != 0:
		return b.homeOfSkein(ctx, s.Skein)
	}
	one, err := b.Store.Bobbin(ctx, s.Bobbin)
	if err != nil {
		return home{}, err
	}
	return b.homeOfBobbin(*one), nil
}

// homeOfBobbin leads to the step in hand, or to the answer once there is one.
func (b *bench) homeOfBobbin(one journal.Bobbin) home {
	place := "now"
	if job.ProgressOf(one, b.Clock()).Stage == job.Sampled {
		place = "result"
	}
	return home{
		Name: one.Name, Address: fmt.Sprintf("/project/%d/wake?bobbin=%d#%s", one.Project, one.ID, place),
		Strands: 2, Turns: one.Direction.Opposite(), bobbin: &one,
	}
}

func (b *bench) homeOfSkein(ctx context.Context, id journal.ID) (home, error) {
	skein, err := b.Store.Skein(ctx, id)
	if err != nil {
		return home{}, err
	}
	at := home{Name: skein.Name, Address: fmt.Sprintf("/skein/%d#angles", id), Strands: 1}
	if skein.Run == 0 {
		one, err := b.Store.Bobbin(ctx, skein.Bobbin)
		if err != nil {
			return home{}, err
		}
		at.Turns = one.Direction
		return at, nil
	}
	run, err := b.Store.Run(ctx, skein.Run)
	if err != nil {
		return home{}, err
	}
	at.Strands, at.Turns = run.Plan.Strands, run.Direction
	return at, nil
}

// title names a sample for a heading: its home and its state.
func (h home) title(s journal.Sample) string {
	name := h.Name + ", " + stateWords(s.State, s.Load)
	if s.Place != "" && h.bobbin != nil {
		name += " sample, " + s.Place
	}
	return name
}

// again shows the page of a sample's home with a form that was not taken.
func (b *bench) again(w http.ResponseWriter, r *http.Request, s journal.Sample, at home, f *form) error {
	switch {
	case at.bobbin != nil:
		f.sample = s.ID
		return b.wakePage(w, r, f.status(), at.bobbin.Project, at.bobbin.ID, f)
	case s.Run != 0:
		return b.runPage(w, r, f.status(), s.Run, f)
	}
	return b.skeinPage(w, r, f.status(), s.Skein, f)
}

// structure is the structure and the line of an eye's reading at this home.
func (h home) structure() (structure string, line yarn.Line) {
	if h.Strands == 1 {
		return journal.Singles, yarn.SurfaceFibre
	}
	return journal.Ply, yarn.VisibleBorder
}

// stateChoice is a state that a piece of yarn is read in, with its words.
type stateChoice struct {
	Key, Words string
}
