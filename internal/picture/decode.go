package picture

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"runtime/debug"

	"golang.org/x/image/webp"
)

// slots bounds the memory of all decoding in the process; claiming is held by
// who waits for them, so that two large pictures do not each hold half.
var (
	slots    = make(chan struct{}, 2)
	claiming = make(chan struct{}, 1)
)

// Decode decodes a picture file as it is stored, not yet upright, and hands it
// to use. At most two pictures are decoded or in use at a time, and a large one
// alone; the others wait until ctx ends, so use should do no more than reduce
// the picture to what is needed, and must not itself call Decode, Put or
// Reduced.
//
// It returns what Inspect returns for a file that may not be decoded, an *Error
// for one that turns out damaged, the error of ctx, or the error of use.
func Decode(ctx context.Context, data []byte, use func(image.Image, Info) error) error {
	h, err := inspect(data)
	if err != nil {
		return err
	}
	free, err := claimSlots(ctx, h.large())
	if err != nil {
		return err
	}
	defer free()
	tidy(h)
	img, err := decode(ctx, data, h.Info)
	if err != nil {
		return err
	}
	tidy(h)
	defer tidy(h)
	return use(img, h.Info)
}

// tidy gives back the garbage around a large picture: that of those before it,
// what the decoder held beside the picture, and the picture itself.
func tidy(h header) {
	if h.large() {
		debug.FreeOSMemory()
	}
}

// claimSlots waits for the right to decode one picture: for one slot, or for both of
// them where the picture is large.
func claimSlots(ctx context.Context, large bool) (free func(), err error) {
	select {
	case claiming <- struct{}{}:
		defer func() { <-claiming }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	want, held := 1, 0
	if large {
		want = cap(slots)
	}
	free = func() {
		for range held {
			<-slots
		}
	}
	for held < want {
		select {
		case slots <- struct{}{}:
			held++
		case <-ctx.Done():
			free()
			return nil, ctx.Err()
		}
	}
	if err := ctx.Err(); err != nil {
		free()
		return nil, err
	}
	return free, nil
}

// decode runs the decoder of the format. Whatever it does on bytes made in bad
// faith, a panic included, comes out as an error.
func decode(ctx context.Context, data []byte, info Info) (img image.Image, err error) {
	defer func() {
		if p := recover(); p != nil {
			img, err = nil, damaged(fmt.Errorf("decoder: %v", p))
		}
	}()
	r := &cancelled{ctx, bytes.NewReader(data)}
	switch info.Format {
	case PNG:
		img, err = png.Decode(r)
	case WebP:
		img, err = webp.Decode(r)
	default:
		img, err = jpeg.Decode(r)
	}
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		return nil, explain(err)
	case img.Bounds().Size() != image.Pt(info.Width, info.Height):
		return nil, damaged(errors.New("size differs from the header's"))
	}
	return img, nil
}

// cancelled reads until ctx ends, so that a decoder stops soon after.
type cancelled struct {
	ctx context.Context
	r   io.Reader
}

func (c *cancelled) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(p)
}

// explain puts a decoder's error into words.
func explain(err error) error {
	var oddJPEG jpeg.UnsupportedError
	var oddPNG png.UnsupportedError
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return truncated(err)
	case errors.As(err, &oddJPEG):
		return unusual("a rare variety of JPEG")
	case errors.As(err, &oddPNG):
		return unusual("a rare variety of PNG")
	}
	return damaged(err)
}
