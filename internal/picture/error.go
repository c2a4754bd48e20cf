package picture

import "fmt"

// Code names a kind of trouble, so that a caller can choose a status or a mark
// for it. The words for people are in Error.
type Code string

// The kinds of trouble with a picture or with the store.
const (
	Empty       Code = "empty"         // no bytes at all
	TooLarge    Code = "too-large"     // more bytes than MaxBytes
	TooMany     Code = "too-many"      // more pixels than may be decoded
	OddSize     Code = "odd-size"      // a side that no photograph has
	NotPicture  Code = "not-a-picture" // no known kind of file
	OtherFormat Code = "other-format"  // a known kind of file that is not read
	Animated    Code = "animated"      // more than one picture in the file
	Unusual     Code = "unusual"       // a rare variety of a format that is read
	Truncated   Code = "truncated"     // the end of the file is missing
	Damaged     Code = "damaged"       // the bytes contradict each other
	NotKept     Code = "not-kept"      // the store has no such photograph
	StoreFailed Code = "store-failed"  // the disc refused to read or write
)

// Error says in whole sentences what is wrong with a picture and what the
// person who sent it can do.
type Error struct {
	Code    Code
	Problem string // one sentence
	Advice  string // one sentence or two
	cause   error
}

// Error returns the problem and the advice.
func (e *Error) Error() string { return e.Problem + " " + e.Advice }

// Unwrap returns what the decoder or the disc reported, or nil.
func (e *Error) Unwrap() error { return e.cause }

// Advice that fits more than one problem.
const (
	sendAgain  = "Send it again; if that fails, take it from the camera or phone once more."
	saveAsJPEG = "Open it in any picture program, save it as an ordinary JPEG and send that."
	exportJPEG = "Export or share it as JPEG; the browser of a phone does this by itself when you upload from the photo library."
)

func truncated(cause error) *Error {
	return &Error{Truncated, "The end of the picture is missing.", sendAgain, cause}
}

func damaged(cause error) *Error {
	return &Error{Damaged, "The picture is damaged and cannot be opened.", sendAgain, cause}
}

func unusual(kind string) *Error {
	return &Error{Unusual, "This is " + kind + ", which cannot be read here.", saveAsJPEG, nil}
}

func animated(format Format) *Error {
	return &Error{
		Animated, fmt.Sprintf("This %s holds a moving picture.", format),
		"Send one still photograph of the yarn.", nil,
	}
}
