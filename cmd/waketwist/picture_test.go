package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/png"
	"strings"
	"testing"
)

// pngChunk is a chunk of a PNG file (W3C PNG third edition, section 5.3).
func pngChunk(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

const pngHeader = 8 + 25 // signature and IHDR

func plainPNG(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = byte(i * i >> 3)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// animatedPNG has the chunk that announces several frames.
func animatedPNG(t *testing.T) []byte {
	pic := plainPNG(t, 64, 64)
	return append(append(bytes.Clone(pic[:pngHeader]), pngChunk("acTL", []byte{0, 0, 0, 2, 0, 0, 0, 0})...), pic[pngHeader:]...)
}

// claimingPNG says in its header that it is larger than it is.
func claimingPNG(t *testing.T, w, h uint32) []byte {
	pic := plainPNG(t, 64, 64)
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	return append(append(bytes.Clone(pic[:8]), pngChunk("IHDR", append(head, 8, 0, 0, 0, 0))...), pic[pngHeader:]...)
}

func animatedGIF(t *testing.T) []byte {
	t.Helper()
	frame := image.NewPaletted(image.Rect(0, 0, 64, 64), color.Palette{color.Black, color.White})
	var b bytes.Buffer
	if err := gif.EncodeAll(&b, &gif.GIF{Image: []*image.Paletted{frame, frame}, Delay: []int{5, 5}}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// fourColourJPEG is a JPEG whose frame header (ITU-T T.81, B.2.2) has the four
// components of print.
func fourColourJPEG() []byte {
	b := []byte{0xff, 0xd8, 0xff, 0xc0, 0, 20, 8, 0, 64, 0, 64, 4}
	for c := range byte(4) {
		b = append(b, c+1, 0x11, 0)
	}
	b = append(b, 0xff, 0xda, 0, 14, 4, 1, 0, 2, 0, 3, 0, 4, 0, 0, 63, 0)
	return append(append(b, make([]byte, 600)...), 0xff, 0xd9)
}

func TestBadPictures(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	w.must(w.upload(reading, "", nil, "angles", "21, 22"))
	w.must(w.upload(reading, "dry.jpg", photograph(t, dryPhoto)))
	before := readingsOf(t, w.get(bobbin).body)
	whole := photograph(t, wetPhoto)
	for _, tt := range []struct {
		name string
		data []byte
		want int
		says string
	}{
		{"empty.jpg", nil, 422, "empty"},
		{"cut-off.jpg", whole[:len(whole)/2], 422, "end of the picture is missing"},
		{"header-only.jpg", whole[:300], 422, ""},
		{"words.jpg", []byte("Dear spinner, the photograph follows by post."), 422, ""},
		{"page.html", []byte("<!doctype html><script>alert(1)</script>"), 422, ""},
		{"drawing.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`), 422, ""},
		{"moving.gif", animatedGIF(t), 422, ""},
		{"moving.png", animatedPNG(t), 422, "moving picture"},
		{"print.jpg", fourColourJPEG(), 422, "CMYK"},
		{"claims.png", claimingPNG(t, 10_000, 10_000), 413, "megapixels"},
		{"endless.png", claimingPNG(t, 4_000_000_000, 4_000_000_000), 422, ""},
		{"tiny.png", plainPNG(t, 3, 3), 422, "3 x 3"},
		{"heavy.jpg", append(bytes.Clone(whole), make([]byte, 26<<20)...), 413, "megabytes"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, path := range []string{reading, "/read"} {
				a := w.upload(path, tt.name, tt.data)
				if a.status != tt.want || !strings.Contains(a.body, tt.says) {
					t.Errorf("%s answers %d, want %d and %q:\n%s", path, a.status, tt.want, tt.says, a.body)
				}
				if !strings.Contains(a.body, `type="file"`) || !strings.Contains(a.body, `role="alert"`) {
					t.Errorf("%s does not say what is wrong at the field of the photograph:\n%s", path, a.body)
				}
				if heading, rest, _ := strings.Cut(a.body, "</h1>"); !strings.Contains(heading, "<h1>") || !strings.Contains(rest, "<p>") {
					t.Errorf("%s answers without a problem or without advice:\n%s", path, a.body)
				}
			}
		})
	}
	if after := readingsOf(t, w.get(bobbin).body); strings.Join(after, " ") != strings.Join(before, " ") {
		t.Errorf("after the bad pictures the readings are %q, before them %q", after, before)
	}
}

func TestPictureWithoutYarnIsKeptAndRefused(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	to := w.must(w.upload(reading, "wall.jpg", photograph(t, "neg_brick.jpg")))
	page := w.get(to).body
	if !strings.Contains(page, "This photograph was not read") {
		t.Errorf("a brick wall was read:\n%s", page)
	}
	photo := number(t, `href="(/photo/[0-9a-f]{64})`, page)
	if a := w.get(photo); a.status != 200 {
		t.Errorf("the photograph of the wall is answered with %d", a.status)
	}
	if all := readingsOf(t, w.get(bobbin).body); len(all) != 1 || all[0] != to {
		t.Errorf("the readings are %q, want %s", all, to)
	}
	if again := w.get("/project/1/wake").body; !strings.Contains(again, "Not read") || !strings.Contains(again, reading) {
		t.Errorf("the wake page does not show the refusal and ask once more:\n%s", again)
	}
}

// TestSamePictureCountsOnce sends one photograph twice: it must not pass for two
// readings, which would make the answer look surer than it is.
func TestSamePictureCountsOnce(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	first := w.must(w.upload(reading, "dry.jpg", photograph(t, dryPhoto)))
	if a := w.upload(reading, "again.jpg", photograph(t, dryPhoto)); a.status != 422 || !strings.Contains(a.body, "counted in this sample already") {
		t.Errorf("the same photograph once more is answered with %d:\n%s", a.status, a.body)
	}
	w.must(w.post(first+"/strike", "reason", "by mistake"))
	second := w.must(w.upload(reading, "dry.jpg", photograph(t, dryPhoto)))
	if all := readingsOf(t, w.get(bobbin).body); strings.Join(all, " ") != first+" "+second {
		t.Errorf("the readings are %q, want %s struck and %s", all, first, second)
	}
}

// TestGoodPictureBesideBadOne sends two photographs of which the second cannot
// be opened: nothing is recorded, so that sending both again counts neither twice.
func TestGoodPictureBesideBadOne(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	body, kind := multipartForm(t, "dry.jpg", photograph(t, dryPhoto))
	second := "Content-Disposition: form-data; name=\"photo\"; filename=\"bad.jpg\"\r\n\r\nwords\r\n"
	boundary := "--" + strings.TrimPrefix(kind, "multipart/form-data; boundary=")
	body = append(bytes.TrimSuffix(body, []byte(boundary+"--\r\n")), boundary+"\r\n"+second+boundary+"--\r\n"...)
	for range 2 {
		req := w.request("POST", reading, bytes.NewReader(body))
		req.Header.Set("Content-Type", kind)
		if a := w.send(req); a.status != 422 {
			t.Fatalf("a bad photograph beside a good one is answered with %d:\n%s", a.status, a.body)
		}
	}
	if all := readingsOf(t, w.get(bobbin).body); len(all) != 0 {
		t.Errorf("a form that was refused left the readings %q", all)
	}
}
