// Command waketwist tells a spinner what ply to hold when the singles have
// rested.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"waketwist/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	world := cli.IO{Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv}
	code := cli.Main(ctx, os.Args[1:], world, cli.Doors{Serve: serve, Journal: openJournal})
	stop()
	os.Exit(code)
}
