package picture

import "bytes"

// foreign is a kind of file that people send in good faith and that is not read.
type foreign struct {
	offset int
	magic  string
	name   string
	advice string
}

const stillPhotograph = "Take a still photograph of the yarn and send that."

// foreigners are tried in order; "ftyp" alone, the mark of all files of the ISO
// base media format, follows its particular brands.
var foreigners = []foreign{
	{0, "GIF8", "a GIF, which has too few colours and pixels to read yarn from", "Send the photograph itself as JPEG."},
	{4, "ftyphei", "a HEIC picture", exportJPEG},
	{4, "ftyphev", "a HEIC picture", exportJPEG},
	{4, "ftypmif", "a HEIC picture", exportJPEG},
	{4, "ftypmsf", "a HEIC picture", exportJPEG},
	{4, "ftypavi", "an AVIF picture", exportJPEG},
	{4, "ftypcrx", "a raw picture from a camera", exportJPEG},
	{4, "ftyp", "a film", stillPhotograph},
	{0, "II*\x00", "a TIFF or a raw picture from a camera", exportJPEG},
	{0, "MM\x00*", "a TIFF or a raw picture from a camera", exportJPEG},
	{0, "FUJIFILMCCD-RAW", "a raw picture from a camera", exportJPEG},
	{0, "BM", "a BMP picture", saveAsJPEG},
	{0, "8BPS", "a layered picture", saveAsJPEG},
	{0, "\x00\x00\x00\x0cjP  ", "a JPEG 2000 picture", saveAsJPEG},
	{0, "\x00\x00\x00\x0cJXL ", "a JPEG XL picture", saveAsJPEG},
	{0, "\xff\x0a", "a JPEG XL picture", saveAsJPEG},
	{0, "%PDF", "a PDF document", "Take the picture out of the document, save it as JPEG and send that."},
	{0, "PK\x03\x04", "a ZIP archive", "Unpack it and send the photographs themselves."},
	{8, "AVI ", "a film", stillPhotograph},
	{0, "\x1aE\xdf\xa3", "a film", stillPhotograph},
}

// sniff tells the format by the first bytes; names and declared types lie.
func sniff(data []byte) (Format, error) {
	switch {
	case has(data, 0, "\xff\xd8"):
		return JPEG, nil
	case has(data, 0, pngSignature):
		return PNG, nil
	case has(data, 0, "RIFF") && has(data, 8, "WEBP"):
		return WebP, nil
	}
	for _, f := range foreigners {
		if has(data, f.offset, f.magic) {
			return "", &Error{OtherFormat, "This is " + f.name + ".", f.advice, nil}
		}
	}
	return "", &Error{NotPicture, "This is not a picture.", "Send a photograph as JPEG, PNG or WebP.", nil}
}

func has(data []byte, offset int, magic string) bool {
	return len(data) >= offset && bytes.HasPrefix(data[offset:], []byte(magic))
}
