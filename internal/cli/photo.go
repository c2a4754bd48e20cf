package cli

import (
	"context"
	"errors"
	"image"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"waketwist/internal/job"
	"waketwist/internal/picture"
	"waketwist/raster"
	"waketwist/reading"
)

// workers is how many photographs are read at a time; picture.Decode allows no
// more.
const workers = 2

// look is what came of one photograph: a reading, or the words why there is
// none.
type look struct {
	photo         string // name of the file as given
	width, height int    // of the upright picture; zero where it could not be opened
	reading       reading.Reading
	why           reading.Explanation // empty where it was not asked for
	scale         *job.Found          // nil where none was asked for or found
	sizes         *job.Sizes          // nil without a scale or a reading
	refused       string              // whole sentences; empty for a readable photograph
	failed        error               // why what was to be written of it is not written
}

// words are whole sentences for the person, as an error.
type words string

func (w words) Error() string { return string(w) }

// howto is how photographs are read.
type howto struct {
	// read reads one into the look. Its error is a sentence for the person.
	read  func(*raster.Photo, *look) error
	scale *job.Scale // nil for none
	// then, if there is one, is handed the look at the photograph of the given
	// number and the picture, upright and reduced, nil where it could not be
	// opened.
	then func(i int, l look, small image.Image) error
}

// gate is held by all who work on a photograph, and by who works on a large one
// alone, so that nothing else takes memory meanwhile.
type gate struct{ sync.RWMutex }

// at looks at the file of the given number. A large file is read only once
// nothing else is under way.
func (how howto) at(ctx context.Context, g *gate, i int, photo string) look {
	g.RLock()
	data, err := readFile(photo)
	if err != nil || !picture.Large(data) {
		defer g.RUnlock()
		return how.lookAt(ctx, i, photo, data, err)
	}
	g.RUnlock()
	g.Lock()
	defer g.Unlock()
	data, err = readFile(photo)
	return how.lookAt(ctx, i, photo, data, err)
}

// lookAt reads the bytes of a photograph, if err does not say that there are
// none.
func (how howto) lookAt(ctx context.Context, i int, photo string, data []byte, err error) look {
	out := look{photo: photo}
	var small image.Image
	if err == nil {
		err = picture.Decode(ctx, data, func(img image.Image, info picture.Info) (err error) {
			out.width, out.height = info.UprightSize()
			photo := raster.NewPhoto(img, raster.Orientation(info.Orientation))
			err = how.read(photo, &out)
			if err == nil && how.scale != nil {
				out.measure(*how.scale, photo)
			}
			if how.then != nil {
				small = picture.Reduce(img, info.Orientation, picture.Preview)
			}
			return err
		})
	}
	switch {
	case err != nil:
		out.refused = err.Error()
	case !out.reading.Readable:
		out.refused = out.unread()
	}
	if how.then != nil && ctx.Err() == nil {
		out.failed = how.then(i, out, small)
	}
	out.why = reading.Explanation{} // as large as a picture, and done with
	return out
}

// measure finds the scale and sizes what was read, or refuses the photograph that the
// scale does not suit.
func (l *look) measure(s job.Scale, photo *raster.Photo) {
	found, err := s.On(photo)
	if err == nil {
		l.scale = &found
		if !l.reading.Readable {
			return
		}
		var sizes job.Sizes
		sizes, err = found.Measure(job.SpansOf(l.reading))
		l.sizes = &sizes
	}
	if err != nil {
		l.refused, l.sizes = "The scale does not suit this picture: "+err.Error()+".", nil
	}
}

// unread says why nothing was read, and what became of the scale, so that both are
// known before the next photograph is taken.
func (l *look) unread() string {
	lines := []string{l.reading.Reason.Sentence()}
	if l.refused != "" {
		lines = append(lines, l.refused)
	}
	if l.scale != nil {
		if found := l.scale.Sentence(); found != "" {
			lines = append(lines, found)
		}
	}
	return strings.Join(lines, " ")
}

func readFile(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, fileTrouble(err)
	}
	defer f.Close()
	data, err := picture.Read(f)
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		return nil, fileTrouble(trouble)
	}
	return data, err
}

// fileTrouble says what the system reports of a file.
func fileTrouble(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return words("There is no such file. Check its name and folder.")
	case errors.Is(err, fs.ErrPermission):
		return words("The file may not be read by you. Change its permissions, or copy it.")
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return words("The file cannot be read: " + err.Error() + ".")
}

// lookAtAll reads photographs, a few at a time, and hands each look to use in
// the order of the photographs. It ends early with the error of use or of ctx,
// or where what was to be written of a photograph could not be.
func lookAtAll(ctx context.Context, photos []string, how howto, use func(int, look) error) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	looks := make([]chan look, len(photos))
	for i := range looks {
		looks[i] = make(chan look, 1)
	}
	var next atomic.Int64
	var g gate
	for range min(workers, len(photos)) {
		go func() {
			for i := next.Add(1) - 1; i < int64(len(photos)); i = next.Add(1) - 1 {
				looks[i] <- how.at(ctx, &g, int(i), photos[i])
			}
		}()
	}
	for i := range looks {
		l := <-looks[i]
		if ctx.Err() != nil {
			return words("Stopped before all photographs were read.")
		}
		if l.failed != nil {
			return l.failed
		}
		if err := use(i, l); err != nil {
			return err
		}
	}
	return nil
}

// pictureNames end the names of files that a folder is searched for. Kinds that
// cannot be read are among them, so that they are refused in words and not
// passed over.
var pictureNames = []string{".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".avif", ".gif", ".tif", ".tiff", ".bmp"}

// expand replaces every folder by the pictures in it, in the order of their
// names.
func expand(names []string) ([]string, error) {
	var out []string
	for _, name := range names {
		if info, err := os.Stat(name); err != nil || !info.IsDir() {
			out = append(out, name)
			continue
		}
		entries, err := os.ReadDir(name)
		if err != nil {
			return nil, words("The folder " + name + " cannot be opened. Check its permissions.")
		}
		before := len(out)
		for _, e := range entries {
			ext := strings.ToLower(filepath.Ext(e.Name()))
			if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") && slices.Contains(pictureNames, ext) {
				out = append(out, filepath.Join(name, e.Name()))
			}
		}
		if len(out) == before {
			return nil, words("The folder " + name + " holds no pictures. Name photographs as JPEG, PNG or WebP.")
		}
	}
	return out, nil
}
