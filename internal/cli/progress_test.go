//go:build linux

package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"
)

// terminal is a pseudo-terminal: what is written to screen comes out of the
// keeper (man 4 ptmx).
func terminal(t *testing.T) (keeper, screen *os.File) {
	t.Helper()
	keeper, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { keeper.Close() })
	var number, locked int32
	for request, arg := range map[uintptr]*int32{syscall.TIOCSPTLCK: &locked, syscall.TIOCGPTN: &number} {
		if _, _, e := syscall.Syscall(syscall.SYS_IOCTL, keeper.Fd(), request, uintptr(unsafe.Pointer(arg))); e != 0 {
			t.Fatal(e)
		}
	}
	size := [4]uint16{24, 100}
	if _, _, e := syscall.Syscall(syscall.SYS_IOCTL, keeper.Fd(), syscall.TIOCSWINSZ, uintptr(unsafe.Pointer(&size))); e != 0 {
		t.Fatal(e)
	}
	screen, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { screen.Close() })
	return keeper, screen
}

// shown runs the command with Stderr, and Stdout too if both is set, on a
// terminal, and returns what appeared there and what went to Stdout otherwise.
func shown(t *testing.T, both bool, args ...string) (onScreen, piped string) {
	t.Helper()
	keeper, screen := terminal(t)
	var seen bytes.Buffer
	done := make(chan struct{})
	go func() {
		defer close(done)
		io.Copy(&seen, keeper) // ends with the error that the screen is gone
	}()
	out, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	world := IO{strings.NewReader(""), in, screen, os.Getenv}
	if both {
		world.Stdout = screen
	}
	Main(t.Context(), args, world, Doors{Serve: showServe})
	in.Close()
	screen.Close()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatal("the terminal stays open")
	}
	rest, err := io.ReadAll(out)
	if err != nil {
		t.Fatal(err)
	}
	return seen.String(), string(rest)
}

func TestProgressOnTerminalOnly(t *testing.T) {
	one, two := "../../reading/testdata/dev_009.jpg", "../../reading/testdata/dev_055.jpg"
	const words = "Reading photographs"
	screen, out := shown(t, false, "read", one, two)
	if !strings.Contains(screen, words) || strings.Contains(out, words) || strings.Count(out, "wide, varying") != 2 {
		t.Errorf("two photographs: on the terminal %q, in the pipe %q", screen, out)
	}
	screen, out = shown(t, true, "read", one, two)
	if last := strings.LastIndex(screen, words); last < 0 || last > strings.Index(screen, "dev_009.jpg") {
		t.Errorf("the answers run into the bar: %q", screen)
	}
	if strings.Count(screen, "wide, varying") != 2 || out != "" {
		t.Errorf("on one terminal: %q, in the pipe %q", screen, out)
	}
	if screen, _ = shown(t, false, "read", one); screen != "" {
		t.Errorf("one photograph: %q", screen)
	}
	if screen, _ = shown(t, false, "read", "--json", one, two); screen != "" {
		t.Errorf("JSON to a pipe: %q", screen)
	}
}
