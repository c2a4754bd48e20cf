package cli

import (
	"net"
	"net/netip"
	"strconv"
)

// Serve is what the workbench is started with.
type Serve struct {
	Addr string // host:port, the host a loopback address; port 0 is any free one
	Data string // folder of the journal and its photographs
	Demo bool   // whether a first start makes the demo project
	Open bool   // whether to open a browser
	IO   IO
}

type serveCmd struct {
	Addr   text `default:"127.0.0.1:8347" placeholder:"HOST:PORT" help:"Where the workbench listens, on this machine only. Port 0 takes any free port. Default: ${default}."`
	Data   text `placeholder:"FOLDER" help:"Folder of the journal and its photographs. Default: WAKETWIST_DATA, else your user data folder."`
	NoDemo bool `help:"Leave out the demo project on a first start."`
	NoOpen bool `help:"Do not open a browser."`
}

// Help is the long help.
func (serveCmd) Help() string {
	return `The workbench is a page in the browser, served by this program on this machine and to this machine only. It leads from the cloth to a plan, from two clipped lengths to the ply to hold, and on to the washed skein, and keeps what you record in one folder. A folder without a journal gets a new one, and the first lines say so. Stop it with Ctrl-C; nothing is lost.

    waketwist serve --data ~/spinning --no-demo`
}

// Run starts the workbench and returns when it stops.
func (c *serveCmd) Run(a *app) error {
	addr, err := loopback(string(c.Addr))
	if err != nil {
		return err
	}
	data := string(c.Data)
	if data == "" {
		if data, err = dataFolder(a.Getenv); err != nil {
			return err
		}
	}
	return a.Serve(a, Serve{Addr: addr, Data: data, Demo: !c.NoDemo, Open: !c.NoOpen, IO: a.IO})
}

// loopback checks an address to listen on and fills in what it leaves out. A
// journal is nobody else's affair, so only this machine's own addresses do.
func loopback(addr string) (string, error) {
	const advice = "give one of this machine's own, such as 127.0.0.1:8347 or [::1]:0"
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return "", misused("--addr: “%s” is not an address with a port; %s", addr, advice)
	}
	if n, err := strconv.Atoi(port); err != nil || n < 0 || n > 65535 {
		return "", misused("--addr: “%s” is not a port; give a number from 0 to 65535", port)
	}
	if host == "" || host == "localhost" {
		host = "127.0.0.1"
	}
	if ip, err := netip.ParseAddr(host); err != nil || !ip.IsLoopback() {
		return "", misused("--addr: the workbench listens on this machine only, and “%s” is not a loopback address; %s", host, advice)
	}
	return net.JoinHostPort(host, port), nil
}
