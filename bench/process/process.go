// Package process runs another program and says what it cost: processor time, wall time and peak memory of the whole
// process, everything that it started and waited for included. It knows Linux only.
package process

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Cost is what one run of a program cost.
type Cost struct {
	User, System, Wall time.Duration
	Peak               int64 // bytes of memory at most
}

// CPU is user and system time together. The kernel splits the two by sampling, so that the split of a run of a few
// milliseconds means little; their sum is exact.
func (c Cost) CPU() time.Duration { return c.User + c.System }

// Command is a program to run.
type Command struct {
	Dir  string // "": where we are
	Env  []string
	Args []string // the program and its arguments
}

// Run runs a program to its end, or kills it and everything that it started when the context ends. What it printed comes
// back even when it failed; the error then ends with what it complained of.
func Run(ctx context.Context, c Command) (Cost, []byte, error) {
	args, peak := watched(c.Args)
	if peak != "" {
		defer os.Remove(peak)
	}
	cmd := exec.CommandContext(ctx, args[0], args[1:]...)
	cmd.Dir, cmd.Env = c.Dir, append(os.Environ(), c.Env...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return kill(cmd.Process.Pid, peak != "") }
	cmd.WaitDelay = time.Second // for what the program started and did not wait for
	var out, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaint
	began := time.Now()
	err := cmd.Run()
	cost := Cost{Wall: time.Since(began)}
	if s := cmd.ProcessState; s != nil {
		cost.User, cost.System = s.UserTime(), s.SystemTime()
		if u, ok := s.SysUsage().(*syscall.Rusage); ok {
			cost.Peak = u.Maxrss << 10
		}
		if kib, ok := lastNumber(peak); ok {
			cost.Peak = kib << 10
		}
	}
	if ctx.Err() != nil {
		if cmd.Process != nil {
			syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) // what is left of the group, if anything
		}
		return cost, out.Bytes(), ctx.Err()
	}
	if err != nil {
		err = fmt.Errorf("%s: %w: %s", strings.Join(c.Args, " "), err, tail(complaint.Bytes()))
	}
	return cost, out.Bytes(), err
}

// watched puts the small program time(1) between us and the program, where it is installed, and names the file that it
// writes the peak memory to. A new process counts the memory of whoever started it as its own until it runs its own
// program; time is small where we may be large.
func watched(args []string) (all []string, peak string) {
	const timer = "/usr/bin/time"
	if _, err := os.Stat(timer); err != nil {
		return args, ""
	}
	f, err := os.CreateTemp("", "peak")
	if err != nil {
		return args, ""
	}
	f.Close()
	return append([]string{timer, "-o", f.Name(), "-f", "%M"}, args...), f.Name()
}

// kill ends a program. Where time(1) stands above it, time goes on, waits for it and hands its cost on to us.
func kill(pid int, timed bool) error {
	if timed {
		b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
		if child, err := strconv.Atoi(strings.TrimSpace(string(b))); err == nil {
			return syscall.Kill(child, syscall.SIGKILL)
		}
	}
	return syscall.Kill(-pid, syscall.SIGKILL)
}

// lastNumber is what time(1) wrote; a complaint about the exit code may stand before it, and nothing where it was killed.
func lastNumber(file string) (int64, bool) {
	b, err := os.ReadFile(file)
	words := strings.Fields(string(b))
	if err != nil || len(words) == 0 {
		return 0, false
	}
	n, err := strconv.ParseInt(words[len(words)-1], 10, 64)
	return n, err == nil
}

func tail(b []byte) string {
	const most = 600
	return strings.TrimSpace(string(b[max(0, len(b)-most):]))
}

// ExitCode is the code that a program ended with, −1 where it did not end by itself.
func ExitCode(err error) int {
	var e *exec.ExitError
	if errors.As(err, &e) {
		return e.ExitCode()
	}
	if err == nil {
		return 0
	}
	return -1
}

// Median takes the median of every figure for itself; of an even number the lower one. Without any it is nothing.
func Median(all []Cost) Cost {
	if len(all) == 0 {
		return Cost{}
	}
	of := func(f func(Cost) int64) int64 {
		var v []int64
		for _, c := range all {
			v = append(v, f(c))
		}
		slices.Sort(v)
		return v[(len(v)-1)/2]
	}
	return Cost{
		User:   time.Duration(of(func(c Cost) int64 { return int64(c.User) })),
		System: time.Duration(of(func(c Cost) int64 { return int64(c.System) })),
		Wall:   time.Duration(of(func(c Cost) int64 { return int64(c.Wall) })),
		Peak:   of(func(c Cost) int64 { return c.Peak }),
	}
}
