package process

import (
	"context"
	"errors"
	"os"
	"testing"
	"time"
)

func TestCostOfAProcess(t *testing.T) {
	work := Command{Args: []string{"sh", "-c", "i=0; while [ $i -lt 200000 ]; do i=$((i+1)); done; echo done"}}
	c, out, err := Run(context.Background(), work)
	if err != nil || string(out) != "done\n" {
		t.Fatalf("%q, %v", out, err)
	}
	if c.CPU() <= 0 || c.Wall <= 0 || c.CPU() > c.Wall+50*time.Millisecond {
		t.Errorf("a loop took %v on the wall and %v of a processor", c.Wall, c.CPU())
	}
	if c.Peak < 100<<10 || c.Peak > 100<<20 {
		t.Errorf("a shell took %d bytes", c.Peak)
	}
}

// What we hold ourselves does not count as the program's.
func TestPeakIsTheProgramsOwn(t *testing.T) {
	if _, err := os.Stat("/usr/bin/time"); err != nil {
		t.Skip("SKIPPED: /usr/bin/time is not installed, and without it the peak is only an upper limit")
	}
	ballast := make([]byte, 200<<20)
	for i := range ballast {
		ballast[i] = byte(i)
	}
	c, _, err := Run(context.Background(), Command{Args: []string{"true"}})
	if err != nil || c.Peak > 50<<20 {
		t.Errorf("a program that does nothing took %d bytes, %v", c.Peak, err)
	}
	if ballast[1<<20] != 0 {
		t.Error("the ballast is gone")
	}
}

func TestAFailureSaysWhy(t *testing.T) {
	_, out, err := Run(context.Background(), Command{Args: []string{"sh", "-c", "echo so far; echo too long >&2; exit 4"}})
	if err == nil || ExitCode(err) != 4 || string(out) != "so far\n" {
		t.Errorf("%q, %v", out, err)
	}
	if _, _, err = Run(context.Background(), Command{Args: []string{"no-such-program"}}); err == nil {
		t.Error("a program that is not there ran")
	}
}

func TestALimitEndsEverything(t *testing.T) {
	ctx, stop := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer stop()
	c, _, err := Run(ctx, Command{Args: []string{"sh", "-c", "sleep 30 & sleep 30; wait"}})
	if !errors.Is(err, context.DeadlineExceeded) || c.Wall > 10*time.Second {
		t.Errorf("after %v: %v", c.Wall, err)
	}
}

// What a program used until it was ended counts.
func TestCostOfWhatWasEnded(t *testing.T) {
	ctx, stop := context.WithTimeout(context.Background(), 700*time.Millisecond)
	defer stop()
	c, _, err := Run(ctx, Command{Args: []string{"sh", "-c", "while :; do :; done"}})
	if !errors.Is(err, context.DeadlineExceeded) || c.CPU() < 20*time.Millisecond {
		t.Errorf("a loop that was ended used %v, %v", c.CPU(), err)
	}
}

func TestMedian(t *testing.T) {
	s := time.Second
	got := Median([]Cost{{User: 5 * s, Peak: 1}, {User: 1 * s, Peak: 9}, {User: 2 * s, Peak: 4}})
	if got.User != 2*s || got.Peak != 4 {
		t.Errorf("%+v", got)
	}
	if got = Median([]Cost{{User: 5 * s}, {User: 1 * s}}); got.User != s {
		t.Errorf("of two: %+v", got)
	}
	if Median(nil) != (Cost{}) {
		t.Error("of none")
	}
}
