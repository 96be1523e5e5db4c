package browser

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
)

// Engines are the browsers that everything is tested in.
var Engines = []string{"chromium", "webkit"}

type engine struct {
	command      func(port int, profile string) *exec.Cmd
	capabilities func(profile string) map[string]any
}

const miniBrowser = "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser"

func engineOf(t Test, name string) engine {
	t.Helper()
	needs := map[string][]string{"chromium": {"chromium", "chromedriver"}, "webkit": {"WebKitWebDriver", "xvfb-run", miniBrowser}}[name]
	for _, n := range needs {
		if _, err := exec.LookPath(n); err != nil {
			missing(t, name, n)
		}
	}
	if name == "webkit" {
		return engine{
			command: func(port int, profile string) *exec.Cmd {
				c := exec.Command("xvfb-run", "-a", "-s", "-screen 0 1600x1200x24", "WebKitWebDriver", fmt.Sprintf("--port=%d", port))
				c.Env = append(os.Environ(), "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1", "XDG_DATA_HOME="+profile, "XDG_CACHE_HOME="+profile, "LIBGL_ALWAYS_SOFTWARE=1")
				return c
			},
			capabilities: func(profile string) map[string]any {
				return map[string]any{"webkitgtk:browserOptions": map[string]any{"binary": miniBrowser, "args": []string{"--automation"}}}
			},
		}
	}
	return engine{
		command: func(port int, _ string) *exec.Cmd {
			return exec.Command("chromedriver", fmt.Sprintf("--port=%d", port))
		},
		capabilities: func(profile string) map[string]any {
			return map[string]any{
				"goog:loggingPrefs": map[string]any{"browser": "ALL"},
				"goog:chromeOptions": map[string]any{"args": []string{
					"--headless=new", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader", "--disable-dev-shm-usage", "--hide-scrollbars", "--user-data-dir=" + profile,
				}},
			}
		},
	}
}

func missing(t Test, engine, what string) {
	t.Helper()
	text := fmt.Sprintf("no %s on this machine: nothing was tested in %s. Install: %s", what, engine,
		strings.Join([]string{"chromium", "chromium-driver", "webkit2gtk-driver", "xvfb"}, " "))
	if os.Getenv("CI") != "" {
		t.Fatal(text)
	}
	t.Skip("SKIPPED: " + text)
}
