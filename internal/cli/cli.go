// Package cli is the command line: it reads what was typed, runs one command,
// and prints the answer as prose or as JSON.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// Exit codes.
const (
	exitDone    = 0
	exitRefused = 1 // what was given cannot be answered
	exitUsage   = 2 // the command line itself cannot be understood
)

// IO is what a command has of the world.
type IO struct {
	Stdin  io.Reader
	Stdout io.Writer
	Stderr io.Writer
	Getenv func(string) string
}

// commands is the grammar of the command line.
type commands struct {
	Serve    serveCmd    `cmd:"" default:"withargs" help:"Open the workbench in the browser. This is what waketwist does by itself."`
	Read     readCmd     `cmd:"" help:"Read the twist from photographs of yarn."`
	Wake     wakeCmd     `cmd:"" help:"Say what ply to hold, from a dry and a re-wet sample."`
	Forecast forecastCmd `cmd:"" help:"Say what skein a project's bobbins will make, from all you have read."`
	Balance  balanceCmd  `cmd:"" help:"Say at which angle a ply of given singles comes to rest."`
	Thin     thinCmd     `cmd:"" help:"Say how twist runs into the thin places of uneven singles."`
	Wheel    wheelCmd    `cmd:"" help:"Say how to treadle or run a motor for a twist, and what twist went in."`
	Machine  machineCmd  `cmd:"" help:"List your wheels, spindles and motors as you counted them."`
	Sett     settCmd     `cmd:"" help:"Say how close to set a yarn in a weave, and what a cloth takes."`
	Swatch   swatchCmd   `cmd:"" help:"Say how much yarn a fabric takes, from a washed swatch of it."`
	Plan     planCmd     `cmd:"" help:"Plan back from a cloth to yarn, singles, fibre, bobbins and hours."`
	Stash    stashCmd    `cmd:"" help:"List what is in hand: fibre by lot, and yarn that is not used up."`
	Losses   lossesCmd   `cmd:"" help:"Say what is lost on the way from fleece to cloth, as your weighings teach it."`
	Convert  convertCmd  `cmd:"" help:"Convert a count, twist, length, mass or another quantity."`

	Help    helpFlag    `short:"h" help:"Show this help."`
	Version versionFlag `help:"Show the version."`
}

const description = `Waketwist helps a handspinner plan a yarn from the cloth that is wanted, and says what ply to hold when the singles have rested and their twist has gone dormant.

The workbench in the browser keeps your plans, bobbins, samples, skeins, machines and fibre. The other commands answer one question each and keep nothing; with --json they print one JSON object a line.

    waketwist
    waketwist wake --dry dry.jpg --rewet wet.jpg
    waketwist wake --dry-deg 20,21,19 --rewet-deg 38,39`

// app is handed to the command that runs.
type app struct {
	context.Context
	IO
	Doors
}

// Doors are the ways to what the command line does not hold itself.
type Doors struct {
	Serve   func(context.Context, Serve) error // carries out the serve command
	Journal Opener
}

// Main runs the command line args, without the program's name, and returns the
// exit code: 0 when it was done, 1 when it was refused or failed, 2 when args
// cannot be understood. Errors are printed as one sentence to io.Stderr.
func Main(ctx context.Context, args []string, io IO, doors Doors) int {
	err := run(&app{ctx, io, doors}, args)
	var usage *usageError
	switch {
	case err == nil, errors.Is(err, errShown):
		return exitDone
	case errors.Is(err, errReported):
		return exitRefused
	case errors.As(err, &usage):
		fmt.Fprintf(io.Stderr, "waketwist: %s\n", sentence(usage.text))
		return exitUsage
	}
	fmt.Fprintf(io.Stderr, "waketwist: %s\n", sentence(err.Error()))
	return exitRefused
}

func run(a *app, args []string) error {
	var grammar commands
	parser, err := kong.New(&grammar,
		kong.Name("waketwist"), kong.Description(description), kong.NoDefaultHelp(),
		kong.Writers(a.Stdout, a.Stderr), kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 80}),
		kong.ExplicitGroups([]kong.Group{
			{Key: "samples", Title: "The samples:"}, {Key: "ply", Title: "The ply:"}, {Key: "singles", Title: "The singles:"},
			{Key: "machine", Title: "The machine:"}, {Key: "speed", Title: "Speed and rhythm:"}, {Key: "asked", Title: "What is wanted, or was done:"},
			{Key: "yarn", Title: "The yarn:"}, {Key: "weave", Title: "The weave:"}, {Key: "piece", Title: "A piece of cloth:"}, {Key: "strength", Title: "Strength and twist:"},
		}))
	if err != nil {
		return err
	}
	parsed, err := parser.Parse(guarded(asHelp(args)))
	switch {
	case errors.Is(err, errShown):
		return err
	case err != nil:
		return misread(err)
	}
	return parsed.Run(a)
}

// asHelp takes "help" and "help COMMAND" for what they mean.
func asHelp(args []string) []string {
	if len(args) > 0 && args[0] == "help" {
		return append(slices.Clone(args[1:]), "--help")
	}
	return args
}

var negative = regexp.MustCompile(`^[-−][.,]?\d`)

// guarded puts a space before negative numbers: no flag begins with a digit, so
// they are values, and every parser of values drops the space.
func guarded(args []string) []string {
	out := make([]string, len(args))
	for i, arg := range args {
		if negative.MatchString(arg) {
			arg = " " + arg
		}
		out[i] = arg
	}
	return out
}

// errShown ends a run that only had to show help or the version; errReported
// ends one whose errors have been printed.
var (
	errShown    = errors.New("shown")
	errReported = errors.New("reported")
)

// usageError says why a command line cannot be understood, and what to do.
type usageError struct{ text string }

func (e *usageError) Error() string { return e.text }

func misused(format string, args ...any) error {
	return &usageError{fmt.Sprintf(format, args...)}
}

// misread puts a parser's error into a sentence with the way to the help.
func misread(err error) error {
	help := "waketwist --help"
	var parse *kong.ParseError
	if errors.As(err, &parse) && parse.Context != nil {
		if node := parse.Context.Selected(); node != nil && node.Name != "serve" {
			help = node.FullPath() + " --help"
		}
	}
	said := strings.TrimSuffix(err.Error(), "?")
	if argument, ok := strings.CutPrefix(said, "expected "); ok {
		said = "missing " + argument
	}
	if word, ok := strings.CutPrefix(said, "unexpected argument "); ok && help == "waketwist --help" {
		said = "“" + strings.Trim(word, `"`) + "” is not a command"
	}
	return misused("%s; see “%s”", said, help)
}

// oneLine keeps an error on one line, whatever names of files bring along.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// sentence keeps an error on one line and ends it.
func sentence(s string) string {
	if s = oneLine(s); strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// helpFlag shows the help of the command it stands with.
type helpFlag bool

// IgnoreDefault makes the flag stand with the program itself where no command
// is named.
func (helpFlag) IgnoreDefault() {}

// BeforeReset shows the help before anything else is looked at.
func (helpFlag) BeforeReset(ctx *kong.Context) error {
	if err := ctx.PrintUsage(false); err != nil {
		return err
	}
	return errShown
}

// versionFlag shows the version of the program.
type versionFlag bool

// BeforeReset shows the version before anything else is looked at.
func (versionFlag) BeforeReset(ctx *kong.Context) error {
	version := "unknown"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		version = info.Main.Version
	}
	fmt.Fprintln(ctx.Stdout, "waketwist", version)
	return errShown
}
