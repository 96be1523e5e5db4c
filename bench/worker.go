package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"syscall"
	"time"

	"trenchwright/bench/process"
)

// workerWord begins the command line of a process that solves one thing: its kind and its file follow.
const workerWord = "worker"

var workers = map[string]func(file string) (any, error){
	"leg":       legWorker,
	"cut":       cutWorker,
	"profile":   profileWorker,
	"ground":    groundWorker,
	"dig":       digWorker,
	"levels":    levelWorker,
	"fold":      foldWorker,
	"replan":    replanWorker,
	"delivery":  deliveryWorker,
	"programme": programmeWorker,
}

// work solves one thing and prints the answer as JSON.
func work(args []string) error {
	if len(args) != 2 || workers[args[0]] == nil {
		return errors.New("a worker takes its kind and a file")
	}
	v, err := workers[args[0]](args[1])
	if err != nil {
		return err
	}
	return json.NewEncoder(os.Stdout).Encode(v)
}

// hire runs this program again as a worker, on one thread, and reads its answer.
func hire(kind, file string, answer any) (process.Cost, error) {
	self, err := os.Executable()
	if err != nil {
		return process.Cost{}, err
	}
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Minute)
	defer stop()
	cost, out, err := process.Run(ctx, process.Command{Args: []string{self, workerWord, kind, file}, Env: []string{"GOMAXPROCS=1"}})
	if err != nil {
		return cost, err
	}
	if err := json.Unmarshal(out, answer); err != nil {
		return cost, fmt.Errorf("%s worker: %w: %q", kind, err, out)
	}
	return cost, nil
}

// cpuTime is the processor time that this process has used so far.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func readJSON(file string, v any) error {
	b, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	return json.Unmarshal(b, v)
}
