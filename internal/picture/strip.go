package picture

// Strip returns the picture without what it says about its owner: place,
// camera, maker notes, texts, thumbnails, further pictures and bytes behind its
// end. The compressed pixels and what gives them their colours are copied bit
// by bit, and of Exif what Camera holds is written anew, so Inspect says the
// same of the result as of data. Stripping twice changes nothing more.
//
// It returns an *Error for what Inspect refuses, and does not decode: pixels
// that turn out damaged later are copied as they are.
func Strip(data []byte) ([]byte, Info, error) {
	info, err := Inspect(data)
	if err != nil {
		return nil, Info{}, err
	}
	switch info.Format {
	case PNG:
		data = stripPNG(data, info.Camera)
	case WebP:
		data = stripWebP(data, info.Camera)
	default:
		data = stripJPEG(data, info.Camera)
	}
	return data, info, nil
}
