package cli

import (
	"bytes"
	"io"
	"os"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// progress is a bar on the terminal that shows how many photographs have been
// read; without a terminal it is nothing but the way to the output.
type progress struct {
	out    io.Writer // where the answers go meanwhile
	stdout io.Writer
	held   bytes.Buffer // answers that would run into the bar
	all    *mpb.Progress
	bar    *mpb.Bar
}

// newProgress shows a bar on Stderr where that is a terminal and there is more
// than one photograph. A program that reads JSON is not shown one.
func newProgress(a *app, photos int, json bool) *progress {
	p := &progress{out: a.Stdout, stdout: a.Stdout}
	if photos < 2 || !isTerminal(a.Stderr) || json && !isTerminal(a.Stdout) {
		return p
	}
	if isTerminal(a.Stdout) {
		p.out = &p.held
	}
	p.all = mpb.New(mpb.WithOutput(a.Stderr), mpb.WithWidth(60))
	p.bar = p.all.AddBar(int64(photos), mpb.BarRemoveOnComplete(),
		mpb.PrependDecorators(decor.Name("Reading photographs "), decor.CountersNoUnit("%d of %d")),
		mpb.AppendDecorators(decor.AverageETA(decor.ET_STYLE_GO, decor.WC{W: 6}), decor.Name(" left")))
	return p
}

// step says that one more photograph has been read.
func (p *progress) step() {
	if p.bar != nil {
		p.bar.Increment()
	}
}

// end takes the bar away and prints the answers that were held back for it.
func (p *progress) end() error {
	if p.bar == nil {
		return nil
	}
	p.bar.Abort(true) // without effect on a bar that is full
	p.all.Wait()
	_, err := p.held.WriteTo(p.stdout)
	return err
}

// isTerminal reports whether a person may be looking at what is written to w.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
