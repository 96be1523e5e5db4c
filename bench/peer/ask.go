package peer

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"trenchwright/bench/process"
)

// Solver is an outside program that solves a model.
type Solver struct {
	Name    string
	Version string
	command func(model, answer string, limit time.Duration) []string
	read    func(out []byte, answer string) (Answer, error)
}

// Answer is what a solver says.
type Answer struct {
	Verdict Verdict
	Least   int64        // cost of the best, if Verdict is Best
	Cost    process.Cost // of the solver's whole process
}

// Verdict is how an outside solver ended.
type Verdict string

const (
	Best     Verdict = "best"
	None     Verdict = "none"      // there is no answer to the question
	NotEnded Verdict = "not ended" // within the limit
)

// CBC is the solver of Debian's package coinor-cbc; the error says that it is missing.
func CBC() (Solver, error) {
	at, err := exec.LookPath("cbc")
	if err != nil {
		return Solver{}, errors.New("cbc is not installed: tools/packages coinor-cbc")
	}
	return Solver{
		Name: "cbc", Version: debianVersion("coinor-cbc"),
		command: func(model, answer string, limit time.Duration) []string {
			return []string{at, model, "-seconds", seconds(limit), "-ratioGap", "0", "-solve", "-solution", answer}
		},
		read: readCBC,
	}, nil
}

func debianVersion(name string) string {
	out, err := exec.Command("dpkg-query", "-W", "-f", "${Version}", name).Output()
	if err != nil {
		return ""
	}
	return string(out)
}

func seconds(d time.Duration) string { return strconv.FormatFloat(d.Seconds(), 'f', 1, 64) }

// readCBC reads the first line of what cbc wrote: "Optimal - objective value 12.00000000".
func readCBC(_ []byte, file string) (Answer, error) {
	b, err := os.ReadFile(file)
	if err != nil {
		return Answer{}, fmt.Errorf("cbc left no answer: %w", err)
	}
	line, _, _ := strings.Cut(string(b), "\n")
	switch {
	case strings.HasPrefix(line, "Optimal"):
		words := strings.Fields(line)
		v, err := strconv.ParseFloat(words[len(words)-1], 64)
		if err != nil {
			return Answer{}, fmt.Errorf("cbc says %q", line)
		}
		return whole(v)
	case strings.HasPrefix(line, "Infeasible"), strings.HasPrefix(line, "Integer infeasible"):
		return Answer{Verdict: None}, nil
	case strings.HasPrefix(line, "Stopped on time"):
		return Answer{Verdict: NotEnded}, nil
	}
	return Answer{}, fmt.Errorf("cbc says %q", line)
}

// HiGHS is the solver of the npm package of that name, run by Node; folder holds its node_modules.
func HiGHS(folder string) (Solver, error) {
	node, err := exec.LookPath("node")
	if err != nil {
		return Solver{}, errors.New("node is not installed")
	}
	b, err := os.ReadFile(filepath.Join(folder, "node_modules", "highs", "package.json"))
	var about struct{ Version string }
	if err != nil || json.Unmarshal(b, &about) != nil {
		return Solver{}, fmt.Errorf("the npm package highs is not installed: npm ci --ignore-scripts in %s", folder)
	}
	script := filepath.Join(folder, "highs.mjs")
	return Solver{
		Name: "HiGHS", Version: about.Version + " (WASM)",
		command: func(model, _ string, limit time.Duration) []string {
			return []string{node, script, model, seconds(limit)}
		},
		read: readHiGHS,
	}, nil
}

func readHiGHS(out []byte, _ string) (Answer, error) {
	var said struct {
		Status string
		Value  float64
	}
	if err := json.Unmarshal(out, &said); err != nil {
		return Answer{}, fmt.Errorf("HiGHS says %q: %w", out, err)
	}
	switch said.Status {
	case "Optimal":
		return whole(said.Value)
	case "Infeasible":
		return Answer{Verdict: None}, nil
	case "Time limit reached":
		return Answer{Verdict: NotEnded}, nil
	}
	return Answer{}, fmt.Errorf("HiGHS says %q", said.Status)
}

// whole is the least cost as the whole number that it has to be.
func whole(v float64) (Answer, error) {
	n := math.Round(v)
	if math.Abs(v-n) > 1e-6*max(1, math.Abs(v)) {
		return Answer{}, fmt.Errorf("a cost of %v is no whole number", v)
	}
	return Answer{Verdict: Best, Least: int64(n)}, nil
}

// Ask has a model solved within a limit of processor time.
func (s Solver) Ask(m *Model, limit time.Duration) (Answer, error) {
	dir, err := os.MkdirTemp("", "model")
	if err != nil {
		return Answer{}, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "model.lp")
	f, err := os.Create(file)
	if err != nil {
		return Answer{}, err
	}
	if err := errors.Join(m.WriteLP(f), f.Close()); err != nil {
		return Answer{}, err
	}
	return s.AskFile(file, limit)
}

// AskFile has the model of an LP file solved within a limit of processor time. A solver that does not look at the clock
// is ended from outside a little later.
func (s Solver) AskFile(file string, limit time.Duration) (Answer, error) {
	answer := file + "." + s.Name
	defer os.Remove(answer)
	ctx, stop := context.WithTimeout(context.Background(), limit+limit/4+10*time.Second)
	defer stop()
	cost, out, err := process.Run(ctx, process.Command{Args: s.command(file, answer, limit)})
	if errors.Is(err, context.DeadlineExceeded) {
		return Answer{Verdict: NotEnded, Cost: cost}, nil
	}
	if err != nil {
		return Answer{}, err
	}
	a, err := s.read(out, answer)
	a.Cost = cost
	return a, err
}
