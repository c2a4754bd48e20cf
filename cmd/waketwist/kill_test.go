package main

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// child is the built program, serving a folder.
type child struct {
	*workbench
	cmd *exec.Cmd
}

// build makes the program as a user has it.
func build(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "waketwist")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		t.Fatalf("the program does not build: %v\n%s", err, out)
	}
	return path
}

func startChild(t *testing.T, program, folder string) *child {
	t.Helper()
	cmd := exec.Command(program, "serve", "--addr", "127.0.0.1:0", "--data", folder, "--no-demo", "--no-open")
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	c := &child{cmd: cmd}
	t.Cleanup(c.kill) // killing twice does no harm
	c.workbench = &workbench{t: t, folder: folder, address: addressPrinted(t, out)}
	return c
}

// kill ends the program at once, as a power cut would.
func (c *child) kill() {
	if c.cmd.ProcessState == nil {
		c.cmd.Process.Kill()
		c.cmd.Wait() // it was killed, which is an error
	}
}

// acknowledged is what the program said it had taken.
type acknowledged struct {
	mu     sync.Mutex
	angles map[string]int // by sample and angle, how often
	photos []string       // addresses of readings
}

// sendAngles types angles into a sample until the program is gone.
func (a *acknowledged) sendAngles(t *testing.T, c *child, sample string, random *rand.Rand) {
	for {
		angle := 10 + random.IntN(50)
		body, kind := multipartForm(t, "", nil, "angles", strconv.Itoa(angle), "direction", "S")
		if _, ok := c.send(sample, body, kind); !ok {
			return
		}
		a.mu.Lock()
		a.angles[sample+" "+strconv.Itoa(angle)]++
		a.mu.Unlock()
	}
}

// sendPhotos uploads pictures, no two alike, until the program is gone.
func (a *acknowledged) sendPhotos(t *testing.T, c *child, sample string, random *rand.Rand) {
	for {
		body, kind := multipartForm(t, "noise.png", noise(t, random))
		to, ok := c.send(sample, body, kind)
		if !ok {
			return
		}
		a.mu.Lock()
		a.photos = append(a.photos, to)
		a.mu.Unlock()
	}
}

// send posts to a sample; ok is false when no answer came back.
func (c *child) send(sample string, body []byte, kind string) (to string, ok bool) {
	resp, err := plainClient.Post(c.address+sample+"/reading", kind, bytes.NewReader(body))
	if err != nil {
		return "", false
	}
	defer resp.Body.Close()
	if said, _ := io.ReadAll(resp.Body); resp.StatusCode != http.StatusSeeOther {
		c.t.Errorf("a reading is answered with %d:\n%s", resp.StatusCode, said)
		return "", false
	}
	return resp.Header.Get("Location"), true
}

// noise is a picture of nothing: its reading is refused, and kept with its
// photograph all the same.
func noise(t *testing.T, random *rand.Rand) []byte {
	img := image.NewGray(image.Rect(0, 0, 40, 40))
	for i := range img.Pix {
		img.Pix[i] = byte(random.UintN(256))
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Error(err)
	}
	return b.Bytes()
}

func TestKilledProcessLosesNothing(t *testing.T) {
	t.Parallel()
	const seed, rounds = 20261125, 30
	t.Logf("seed %d", seed)
	program, folder := build(t), filepath.Join(t.TempDir(), "journal")
	random := rand.New(rand.NewPCG(seed, 1))
	c := startChild(t, program, folder)
	project := c.newProject("name", "Killed", "strands", "2")
	var samples []string
	for _, name := range []string{"Typed", "Pictured"} {
		bobbin := c.newBobbin(project, "name", name, "direction", "Z")
		c.must(c.post(bobbin+"/cut", "depth", "0"))
		samples = append(samples, c.sample(project, bobbin))
	}
	acks := &acknowledged{angles: map[string]int{}}
	for round := range rounds {
		var senders sync.WaitGroup
		senders.Go(func() { acks.sendAngles(t, c, samples[0], rand.New(rand.NewPCG(seed, uint64(2*round)))) })
		senders.Go(func() { acks.sendPhotos(t, c, samples[1], rand.New(rand.NewPCG(seed, uint64(2*round+1)))) })
		time.Sleep(time.Duration(30+random.IntN(400)) * time.Millisecond)
		c.kill()
		senders.Wait()
		c = startChild(t, program, folder)
		if round%10 == 9 {
			acks.allThere(c)
		}
	}
	t.Logf("%d angles and %d photographs were acknowledged over %d kills", total(acks.angles), len(acks.photos), rounds)
	if total(acks.angles) < rounds || len(acks.photos) < rounds/3 {
		t.Error("too few were acknowledged for the test to say anything")
	}
}

func total(counts map[string]int) (n int) {
	for _, one := range counts {
		n += one
	}
	return n
}

var shownAngle = regexp.MustCompile(`<strong>([0-9]+)°</strong>`)

// allThere looks for everything that was acknowledged.
func (a *acknowledged) allThere(c *child) {
	c.t.Helper()
	shown := map[string]int{}
	listed := readingsOf(c.t, c.get("/bobbin/1").body)
	for _, reading := range listed {
		page := c.get(reading).body
		if found := shownAngle.FindStringSubmatch(page); found != nil {
			shown["/sample/1 "+found[1]]++
		}
	}
	for key, n := range a.angles {
		if shown[key] < n {
			c.t.Errorf("%s was acknowledged %d times and is shown %d times", key, n, shown[key])
		}
	}

	if sent := total(a.angles); len(listed) < sent {
		c.t.Errorf("%d angles were acknowledged, %d are kept", sent, len(listed))
	}
	a.photographsThere(c)
}

func (a *acknowledged) photographsThere(c *child) {
	c.t.Helper()
	listed := readingsOf(c.t, c.get("/bobbin/2").body)
	for _, reading := range a.photos {
		if !slices.Contains(listed, reading) {
			c.t.Errorf("%s was acknowledged and is not listed", reading)
			continue
		}
		found := regexp.MustCompile(`/photo/[0-9a-f]{64}`).FindString(c.get(reading).body)
		if found == "" {
			c.t.Errorf("%s has no photograph", reading)
			continue
		}
		if got := c.get(found); got.status != 200 || !strings.HasPrefix(got.body, "\xff\xd8") {
			c.t.Errorf("the photograph of %s is answered with %d", reading, got.status)
		}
	}
}
