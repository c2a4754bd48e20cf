package picture

import (
	"context"
	"errors"
	"image"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"waketwist/raster"
)

// Store keeps photographs in a folder, each under the hash of its bytes, in
// subfolders named by the first two digits. A file under its final name is
// always whole. Reduced pictures lie beside the originals and may be deleted at
// any time. Several processes may use one folder.
type Store struct {
	folder string
}

// Unfinished files carry unfinished as their prefix. One older than abandoned
// belongs to a write that was cut off; a younger one may still be growing in
// another process.
const (
	unfinished = ".unfinished-"
	abandoned  = time.Hour
)

// suffixes by which the stored formats are told apart.
var suffixes = map[Format]string{JPEG: ".jpg", PNG: ".png", WebP: ".webp"}

// OpenStore opens the store in folder, which it creates where it is missing,
// and sweeps it.
func OpenStore(folder string) (*Store, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, storeFailed(err)
	}
	s := &Store{folder}
	_, err := s.Sweep()
	return s, err
}

// Put strips a picture file, makes sure that it can be decoded, and keeps it.
// When Put has returned without error the photograph survives a loss of power.
// Keeping the same photograph again changes nothing, unless the kept one has
// been damaged: then it is mended.
//
// It returns the *Error of Strip or Decode, the error of ctx, or an *Error of
// code StoreFailed.
func (s *Store) Put(ctx context.Context, data []byte) (Hash, Info, error) {
	clean, info, err := Strip(data)
	if err != nil {
		return "", Info{}, err
	}
	h := hashOf(clean)
	if _, err := s.Read(h); err == nil {
		return h, info, nil
	}
	var preview image.Image
	err = Decode(ctx, clean, func(img image.Image, _ Info) error {
		preview = Reduce(img, info.Orientation, Preview)
		return nil
	})
	if err != nil {
		return "", Info{}, err
	}
	if err := s.write(s.path(h, suffixes[info.Format]), clean); err != nil {
		return "", Info{}, err
	}
	// What fails here is made when it is asked for.
	_, _ = s.keepReduced(h, preview, Preview)
	_, _ = s.keepReduced(h, Reduce(preview, Normal, Thumbnail), Thumbnail)
	return h, info, nil
}

// Open opens a kept photograph for reading, stripped but not upright. The
// *Error is of code NotKept where there is none.
func (s *Store) Open(h Hash) (*os.File, Format, error) {
	if _, err := ParseHash(string(h)); err != nil {
		return nil, "", err
	}
	for format, suffix := range suffixes {
		f, err := os.Open(s.path(h, suffix))
		switch {
		case err == nil:
			return f, format, nil
		case !errors.Is(err, fs.ErrNotExist):
			return nil, "", storeFailed(err)
		}
	}
	return nil, "", notKept(fs.ErrNotExist)
}

// Read returns the bytes of a kept photograph, stripped but not upright, having
// checked that they are those that were put.
func (s *Store) Read(h Hash) ([]byte, error) {
	f, _, err := s.Open(h)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := Read(f)
	if err == nil && hashOf(data) != h {
		err = errors.New("hash differs")
	}
	if err != nil {
		return nil, &Error{
			Damaged, "The kept photograph has been damaged on the disc.",
			"Bring it back from a backup, or send the photograph again.", err,
		}
	}
	return data, nil
}

// Look decodes a kept photograph and hands its planes, upright, to use, under the
// rules of Decode. It returns the errors of Read and Decode.
func (s *Store) Look(ctx context.Context, h Hash, use func(*raster.Photo) error) error {
	data, err := s.Read(h)
	if err != nil {
		return err
	}
	return Decode(ctx, data, func(img image.Image, info Info) error {
		return use(raster.NewPhoto(img, raster.Orientation(info.Orientation)))
	})
}

// Reduced returns a kept photograph as an upright JPEG whose longer side is
// side or, for a smaller photograph, its own; side is Thumbnail or Preview. It
// is made once and then read from the disc. Errors are those of Read and Decode.
func (s *Store) Reduced(ctx context.Context, h Hash, side Side) ([]byte, error) {
	if _, err := ParseHash(string(h)); err != nil {
		return nil, err
	}
	if kept, err := os.ReadFile(s.reducedPath(h, side)); err == nil {
		return kept, nil
	}
	data, err := s.Read(h)
	if err != nil {
		return nil, err
	}
	var small image.Image
	err = Decode(ctx, data, func(img image.Image, info Info) error {
		small = Reduce(img, info.Orientation, side)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return s.keepReduced(h, small, side)
}

// keepReduced returns the picture as JPEG even where the disc does not take it.
func (s *Store) keepReduced(h Hash, small image.Image, side Side) ([]byte, error) {
	data, err := encodeJPEG(small)
	if err != nil {
		return nil, damaged(err)
	}
	_ = s.write(s.reducedPath(h, side), data)
	return data, nil
}

// Sweep removes what writes that were cut off more than an hour ago left behind
// and returns the names of those files.
func (s *Store) Sweep() ([]string, error) {
	var swept []string
	err := filepath.WalkDir(s.folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasPrefix(d.Name(), unfinished) {
			return err
		}
		info, err := d.Info()
		if err != nil || time.Since(info.ModTime()) < abandoned {
			return nil // finished meanwhile, or not abandoned
		}
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		swept = append(swept, path)
		return nil
	})
	if err != nil {
		return swept, storeFailed(err)
	}
	return swept, nil
}

func (s *Store) path(h Hash, suffix string) string {
	return filepath.Join(s.folder, string(h[:2]), string(h)+suffix)
}

func (s *Store) reducedPath(h Hash, side Side) string {
	return s.path(h, "-"+strconv.Itoa(int(side))+".jpg")
}

// write puts a whole file under its final name, or nothing.
func (s *Store) write(path string, data []byte) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return storeFailed(err)
	}
	err := errors.Join(
		writeThenRename(path, data),
		syncFolder(folder),
		syncFolder(s.folder), // it may have gained the subfolder
	)
	if err != nil {
		return storeFailed(err)
	}
	return nil
}

// writeThenRename relies on rename replacing a file in one step, as POSIX asks.
func writeThenRename(path string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), unfinished+"*") // of mode 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name())
		}
	}()
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// syncFolder makes the names in a folder survive a loss of power. Windows
// cannot sync a folder; its file system logs names by itself.
func syncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func notKept(cause error) *Error {
	return &Error{NotKept, "No such photograph is kept here.", "It may have been deleted; send it again.", cause}
}

func storeFailed(cause error) *Error {
	return &Error{
		StoreFailed, "The photograph could not be written to or read from the disc.",
		"See that the disc is not full and that its folder may be written, then try again.", cause,
	}
}
