package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"waketwist": func() {
		world := IO{Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv}
		os.Exit(Main(context.Background(), os.Args[1:], world, Doors{Serve: showServe}))
	}})
}

// showServe prints what the workbench would be started with.
func showServe(_ context.Context, s Serve) error {
	_, err := fmt.Fprintf(s.IO.Stdout, "addr %s\ndata %s\ndemo %t\nopen %t\n", s.Addr, filepath.ToSlash(s.Data), s.Demo, s.Open)
	return err
}

func TestScripts(t *testing.T) {
	photographs, err := filepath.Abs("../../reading/testdata")
	if err != nil {
		t.Fatal(err)
	}
	rulers, err := filepath.Abs("../../scale/testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("YARN", photographs)
			e.Setenv("RULERS", rulers)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"picture": writePicture,
			"keys":    checkKeys,
			"near":    checkNear,
			"plain":   checkPlain,
			"sheet":   checkSheet,
		},
	})
}

// printed returns the lines of the last command's output, each a JSON object.
func printed(ts *testscript.TestScript) (out []map[string]any) {
	for line := range strings.Lines(ts.ReadFile("stdout")) {
		var object map[string]any
		if err := json.Unmarshal([]byte(line), &object); err != nil {
			ts.Fatalf("this line is not a JSON object: %s%v", line, err)
		}
		out = append(out, object)
	}
	return out
}

// checkKeys wants every line of the output to be a JSON object with exactly
// these keys: keys a b c.
func checkKeys(ts *testscript.TestScript, neg bool, args []string) {
	if neg {
		ts.Fatalf("keys cannot be negated")
	}
	objects := printed(ts)
	if len(objects) == 0 {
		ts.Fatalf("there is no output")
	}
	slices.Sort(args)
	for _, o := range objects {
		var got []string
		for k := range o {
			got = append(got, k)
		}
		slices.Sort(got)
		if !slices.Equal(got, args) {
			ts.Fatalf("keys are %v, want %v", got, args)
		}
	}
}

// checkNear wants a number of a line of the output near a value: near 0
// target_angle_deg.value 38 0.5, or near 0 strands.1.angle_deg 30 0.1.
func checkNear(ts *testscript.TestScript, neg bool, args []string) {
	var line int
	var want, tolerance float64
	if len(args) != 4 {
		ts.Fatalf("usage: near line path value tolerance")
	}
	for i, v := range []any{&line, nil, &want, &tolerance} {
		if v == nil {
			continue
		}
		_, err := fmt.Sscan(args[i], v)
		ts.Check(err)
	}
	objects := printed(ts)
	if line >= len(objects) {
		ts.Fatalf("there are only %d lines", len(objects))
	}
	var at any = objects[line]
	for key := range strings.SplitSeq(args[1], ".") {
		switch in := at.(type) {
		case map[string]any:
			at = in[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i < 0 || i >= len(in) {
				ts.Fatalf("nothing at %s: there are %d", args[1], len(in))
			}
			at = in[i]
		default:
			ts.Fatalf("nothing at %s", args[1])
		}
	}
	got, ok := at.(float64)
	if !ok {
		ts.Fatalf("%s is %v, not a number", args[1], at)
	}
	if near := got >= want-tolerance && got <= want+tolerance; near == neg {
		ts.Fatalf("%s is %v; is it within %v of %v: %t", args[1], got, tolerance, want, near)
	}
}

// checkPlain wants the last command's error to be one sentence for a person:
// one line, without stack traces, the prefixes of packages, or types of Go.
func checkPlain(ts *testscript.TestScript, neg bool, _ []string) {
	if neg {
		ts.Fatalf("plain cannot be negated")
	}
	s := ts.ReadFile("stderr")
	if strings.Count(s, "\n") != 1 || !strings.HasPrefix(s, "waketwist: ") {
		ts.Fatalf("not one line of the program's own: %q", s)
	}
	for _, word := range []string{"goroutine", "panic", "strconv", "kong", "picture:", "unit:", "rest:", "no such file or directory", "%!", "<nil>"} {
		if strings.Contains(s, word) {
			ts.Fatalf("%q is no word for a person: %q", word, s)
		}
	}
	if !strings.HasSuffix(s, ".\n") {
		ts.Fatalf("the sentence has no end: %q", s)
	}
}

func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		args string
		want int
	}{
		{"--help", exitDone},
		{"wake --rewet-deg 38", exitDone},
		{"convert 9 tpi", exitDone},
		{"serve", exitDone},
		{"wake --dry-deg 45 --rewet-deg 20", exitRefused},
		{"read no-such-picture.jpg", exitRefused},
		{"read --json no-such-picture.jpg", exitRefused},
		{"wake --rewet no-such-picture.jpg", exitRefused},
		{"wake", exitUsage},
		{"wake --rewet-deg 38 --plies nine", exitUsage},
		{"read", exitUsage},
		{"spin", exitUsage},
		{"serve --fast", exitUsage},
		{"serve --addr 0.0.0.0:80", exitUsage},
		{"convert 9 furlongs", exitUsage},
		{"balance --singles-angle 99", exitUsage},
		{"wheel --counted 83/10", exitDone},
		{"wheel --counted 83/10,20/10", exitRefused},
		{"wheel", exitUsage},
	} {
		var out, errs strings.Builder
		getenv := func(name string) string { return map[string]string{"HOME": "/home/spinner"}[name] }
		got := Main(t.Context(), strings.Fields(tt.args), IO{strings.NewReader(""), &out, &errs, getenv}, Doors{Serve: showServe})
		if got != tt.want {
			t.Errorf("waketwist %s: exit code %d, want %d\n%s", tt.args, got, tt.want, errs.String())
		}
	}
}

func TestServeFailure(t *testing.T) {
	var out, errs strings.Builder
	failing := func(context.Context, Serve) error { return fmt.Errorf("the port is taken") }
	code := Main(t.Context(), []string{"--data", "x"}, IO{strings.NewReader(""), &out, &errs, os.Getenv}, Doors{Serve: failing})
	if want := "waketwist: the port is taken.\n"; code != exitRefused || errs.String() != want {
		t.Errorf("code %d, %q; want %d, %q", code, errs.String(), exitRefused, want)
	}
}

func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	var out, errs strings.Builder
	code := Main(ctx, []string{"read", "a.jpg", "b.jpg"}, IO{strings.NewReader(""), &out, &errs, os.Getenv}, Doors{Serve: showServe})
	if code != exitRefused || out.String() != "" || !strings.Contains(errs.String(), "Stopped") {
		t.Errorf("code %d, output %q, error %q", code, out.String(), errs.String())
	}
}

func TestPlatformFolder(t *testing.T) {
	for _, tt := range []struct {
		system string
		env    map[string]string
		want   string // empty when refused
	}{
		{"linux", map[string]string{"HOME": "/home/a"}, "/home/a/.local/share/waketwist"},
		{"linux", map[string]string{"HOME": "/home/a", "XDG_DATA_HOME": "/data"}, "/data/waketwist"},
		{"linux", map[string]string{"HOME": "/home/a", "XDG_DATA_HOME": "data"}, "/home/a/.local/share/waketwist"},
		{"freebsd", map[string]string{"HOME": "/home/a"}, "/home/a/.local/share/waketwist"},
		{"darwin", map[string]string{"HOME": "/Users/a"}, "/Users/a/Library/Application Support/Waketwist"},
		{"windows", map[string]string{"LOCALAPPDATA": "/a/Local"}, "/a/Local/Waketwist"},
		{"windows", map[string]string{"HOME": "/a"}, ""},
		{"linux", nil, ""},
	} {
		got, err := platformFolder(tt.system, func(name string) string { return tt.env[name] })
		if filepath.ToSlash(got) != tt.want || (err == nil) != (tt.want != "") {
			t.Errorf("platformFolder(%s, %v) = %q, %v, want %q", tt.system, tt.env, got, err, tt.want)
		}
	}
}
