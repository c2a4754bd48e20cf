package picture

import (
	"context"
	"errors"
	"image"
	"image/color"
	"sync"
	"testing"
	"time"
)

// decoded returns the pixels of data as the decoder gave them.
func decoded(tb testing.TB, data []byte) image.Image {
	tb.Helper()
	var got image.Image
	err := Decode(context.Background(), data, func(img image.Image, _ Info) error {
		got = img
		return nil
	})
	if err != nil {
		tb.Fatalf("decode: %v", err)
	}
	return got
}

func codeOf(err error) Code {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return ""
}

func ignore(image.Image, Info) error { return nil }

func TestDecode(t *testing.T) {
	small := textured(40, 24)
	for name, data := range map[string][]byte{
		"PNG":            pngOf(t, small),
		"PNG with notes": notedPNG(pngOf(t, small), 3),
	} {
		if !samePixels(decoded(t, data), small) {
			t.Errorf("%s: pixels differ from those encoded", name)
		}
	}
	if got := decoded(t, jpegOf(t, small)).Bounds(); got != small.Bounds() {
		t.Errorf("JPEG: got %v, want %v", got, small.Bounds())
	}
	if got := decoded(t, progressiveJPEG()).At(9, 9); got != (color.Gray{128}) {
		t.Errorf("progressive JPEG: got %v, want mid grey", got)
	}
	web := decoded(t, riff(losslessChunk(40, 24)))
	for x, want := range map[int]color.NRGBA{2: {90, 40, 30, 255}, 3: {90, 200, 30, 255}} {
		if got := web.At(x, 0); got != want {
			t.Errorf("WebP at %d: got %v, want %v", x, got, want)
		}
	}
}

func TestDecodeLargest(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 8192, 6144))
	grey.SetGray(8191, 6143, color.Gray{255})
	img := decoded(t, jpegOf(t, grey))
	if got := img.Bounds(); got != grey.Bounds() {
		t.Errorf("got %v, want %v", got, grey.Bounds())
	}
	if got := color.GrayModel.Convert(img.At(8191, 6143)).(color.Gray); got.Y < 200 {
		t.Errorf("last pixel: got %v, want white", got)
	}
}

func TestDecodeDamaged(t *testing.T) {
	pic := pngOf(t, textured(64, 64))
	pic[len(pic)-20] ^= 0xff // in the pixels: their check sum fails
	tests := []struct {
		name string
		data []byte
		want Code
	}{
		{"JPEG without tables", frame{sof0, 8, 3, 100, 100, 99, 1}.bytes(), Damaged},
		{"JPEG cut and closed", closed(jpegOf(t, textured(64, 64))), Damaged},
		{"PNG with a wrong byte", pic, Damaged},
		{"WebP without pixels", riff(losslessHeader(40, 24)), Truncated},
		{"JPEG of odd subsampling", oddSubsampling(), Unusual},
		{"empty", nil, Empty},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			err := Decode(context.Background(), test.data, ignore)
			if codeOf(err) != test.want {
				t.Errorf("got %v, want code %s", err, test.want)
			}
		})
	}
}

// closed cuts a JPEG in half and puts an end of image where it was cut.
func closed(jpg []byte) []byte { return append(jpg[:len(jpg)/2], 0xff, eoi) }

// oddSubsampling has three samples of luma across for each of chroma.
func oddSubsampling() []byte {
	b := frame{sof0, 8, 3, 100, 100, 99, 1}.bytes()
	b[13] = 0x31 // two bytes start, two marker, two length, six of frame, component
	return b
}

// treacherous is a context that panics where the decoder reads.
type treacherous struct{ context.Context }

func (treacherous) Err() error { panic("index out of range") }

func TestDecoderPanicIsAnError(t *testing.T) {
	info := Info{Format: JPEG, Width: 20, Height: 20}
	img, err := decode(treacherous{context.Background()}, jpegOf(t, textured(20, 20)), info)
	if img != nil || codeOf(err) != Damaged {
		t.Errorf("got %v, %v, want code %s", img, err, Damaged)
	}
}

func TestDecodeHonoursContext(t *testing.T) {
	data := jpegOf(t, textured(400, 400))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	used := false
	err := Decode(ctx, data, func(image.Image, Info) error { used = true; return nil })
	if !errors.Is(err, context.Canceled) || used {
		t.Errorf("got %v, used %v, want cancelled before decoding", err, used)
	}
	if _, err := decode(ctx, data, Info{Format: JPEG}); !errors.Is(err, context.Canceled) {
		t.Errorf("while decoding: got %v, want cancelled", err)
	}
}

func TestDecodeReturnsErrorOfUse(t *testing.T) {
	want := errors.New("no yarn seen")
	got := Decode(context.Background(), progressiveJPEG(), func(image.Image, Info) error { return want })
	if got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestDecodeAtMostTwoAtATime(t *testing.T) {
	inUse, release := make(chan struct{}), make(chan struct{})
	var wait sync.WaitGroup
	for range 2 {
		wait.Go(func() {
			err := Decode(context.Background(), progressiveJPEG(), func(image.Image, Info) error {
				inUse <- struct{}{}
				<-release
				return nil
			})
			if err != nil {
				t.Error(err)
			}
		})
		<-inUse
	}
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if err := Decode(ctx, progressiveJPEG(), ignore); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("third at a time: got %v, want to wait until the deadline", err)
	}
	close(release)
	wait.Wait()
	if err := Decode(context.Background(), progressiveJPEG(), ignore); err != nil {
		t.Errorf("after the first two: %v", err)
	}
}

func TestLargePictureAlone(t *testing.T) {
	briefly := func() context.Context {
		ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
		t.Cleanup(cancel)
		return ctx
	}
	small, err := claimSlots(context.Background(), false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := claimSlots(briefly(), true); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a large picture beside a small one: got %v, want to wait", err)
	}
	small()
	var wait sync.WaitGroup
	for range 2 { // neither may keep half of what the other waits for
		wait.Go(func() {
			for range 20 {
				free, err := claimSlots(context.Background(), true)
				if err != nil {
					t.Error(err)
					return
				}
				free()
			}
		})
	}
	wait.Wait()
	large, err := claimSlots(context.Background(), true)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := claimSlots(briefly(), false); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a small picture beside a large one: got %v, want to wait", err)
	}
	large()
}

func TestLarge(t *testing.T) {
	for _, tt := range []struct {
		pixels int
		coding coding
		want   bool
	}{
		{12_000_000, plain, false}, {12_000_000, plainPNG, false}, {50_000_000, plain, true},
		{24_000_000, progressive, true}, {2_000_000, progressive, false}, {12_000_000, deep, true},
	} {
		h := header{Info: Info{Width: tt.pixels / 1000, Height: 1000}, coding: tt.coding}
		if h.large() != tt.want {
			t.Errorf("%d pixels of a %s: large is %t", tt.pixels, tt.coding.name, h.large())
		}
	}
}
