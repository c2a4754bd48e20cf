//go:build js

// Command inbrowser reads photographs inside a web page: it gives the page a
// function `read`, which takes the bytes of a JPEG and returns the reading as
// JSON.
package main

import (
	"bytes"
	"encoding/json"
	"image/jpeg"
	"syscall/js"

	"waketwist/raster"
	"waketwist/reading"
)

func main() {
	js.Global().Set("read", js.FuncOf(func(_ js.Value, args []js.Value) any {
		file := make([]byte, args[0].Length())
		js.CopyBytesToGo(file, args[0])
		photo, err := jpeg.Decode(bytes.NewReader(file))
		if err != nil {
			return err.Error()
		}
		said, err := json.Marshal(reading.Read(raster.NewPhoto(photo, 1), reading.Options{}))
		if err != nil {
			return err.Error()
		}
		return string(said)
	}))
	select {} // until the page is left
}
