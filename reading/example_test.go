package reading_test

import (
	"fmt"
	"image/jpeg"
	"log"
	"os"

	"waketwist/raster"
	"waketwist/reading"
)

func ExampleRead() {
	f, err := os.Open("testdata/dev_055.jpg")
	if err != nil {
		log.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		log.Fatal(err)
	}
	r := reading.Read(raster.NewPhoto(img, 1), reading.Options{})
	if !r.Readable {
		fmt.Println(r.Reason.Sentence())
		return
	}
	fmt.Printf("%v of %d, twist %v\n", r.Structure, r.Plies, r.Direction)
	fmt.Printf("the true angle of 19.3 degrees lies in the interval: %v\n",
		r.Angle.Low.Degrees() < 19.3 && 19.3 < r.Angle.High.Degrees())
	// Output:
	// ply of 2, twist Z
	// the true angle of 19.3 degrees lies in the interval: true
}
