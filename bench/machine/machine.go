// Package machine says what figures of speed were taken on.
package machine

import (
	"fmt"
	"os"
	"runtime"
	"strings"
	"time"
)

// Said is what the figures are taken on, and when.
func Said() string {
	return fmt.Sprintf("%s, %d cores, %s of memory, %s/%s, %s, %s", after("/proc/cpuinfo", "model name"), runtime.NumCPU(), memory(),
		runtime.GOOS, runtime.GOARCH, runtime.Version(), time.Now().Format("2 January 2006"))
}

// after is what a file of the system says behind a word and a colon, the first time.
func after(file, word string) string {
	b, err := os.ReadFile(file)
	if err != nil {
		return "unknown " + word
	}
	for line := range strings.Lines(string(b)) {
		if name, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(name) == word {
			return strings.TrimSpace(value)
		}
	}
	return "unknown " + word
}

func memory() string {
	var kib int64
	if _, err := fmt.Sscanf(after("/proc/meminfo", "MemTotal"), "%d", &kib); err != nil {
		return "unknown size"
	}
	return fmt.Sprintf("%.1f GiB", float64(kib)/(1<<20))
}
