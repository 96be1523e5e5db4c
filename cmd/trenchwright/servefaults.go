package main

import (
	"errors"
	"fmt"
	"io/fs"
	"net"
	"syscall"
	"time"

	"trenchwright/edge/store"
)

// unheard says why the workspace cannot listen where it was told to.
func (c serveCommand) unheard(err error) error {
	code, why := exitUsage, ""
	var names *net.DNSError
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		code, why = exitBroken, "is taken: a workspace, or another program, listens there already. Try: that one, or another port by --addr"
	case errors.Is(err, syscall.EACCES):
		code, why = exitBroken, "is not for every program: this machine keeps low ports to its administrator. Try: --addr 127.0.0.1:8417"
	case errors.Is(err, syscall.EADDRNOTAVAIL), errors.As(err, &names):
		why = "is no address of this machine. Try: 127.0.0.1:8417 for this machine alone, 0.0.0.0:8417 for its networks"
	default:
		why = fmt.Sprintf("cannot be listened on: %v. Try: --addr 127.0.0.1:8417", err)
	}
	return outcome{code, fmt.Sprintf("trenchwright serve: %s %s", c.Addr, why)}
}

// openJobs opens the store in a folder, and says in words why it cannot.
func openJobs(command, dir string) (*store.Store, error) {
	s, err := store.Open(dir, store.Options{Now: time.Now})
	var refused *store.Refused
	switch {
	case err == nil:
		return s, nil
	case errors.As(err, &refused):
		return nil, outcome{exitFaults, fmt.Sprintf("trenchwright %s: %s", command, refused)}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return nil, outcome{exitBroken, fmt.Sprintf("trenchwright %s: the folder %s cannot be written: %v. Try: another folder by --data, or the right to write there", command, dir, err)}
	case errors.Is(err, syscall.ENOTDIR), errors.Is(err, fs.ErrExist):
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright %s: %s is no folder. Try: another one by --data", command, dir)}
	}
	return nil, outcome{exitBroken, fmt.Sprintf("trenchwright %s: the jobs in %s cannot be opened: %v. Try: look at the folder and the room on its disk", command, dir, err)}
}
