package browser

import (
	"context"
	_ "embed"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

//go:embed print_webkit.py
var printWebKit []byte

// Paper is what a page is printed on, in mm.
type Paper struct{ Width, Height, Margin float64 }

// PrintedInWebKit opens an address in a WebKitGTK of its own, runs a script until it says true, and prints the page to a PDF, whose
// place it gives. That engine's WebDriver cannot print; its library can, and is reached through Debian's python3-gi.
func PrintedInWebKit(t Test, address, script string, on Paper) (file string) {
	t.Helper()
	const python = "/usr/bin/python3" // Debian's own: another one does not have its libraries
	if err := exec.Command(python, "-c", "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2").Run(); err != nil {
		text := "no WebKit2 for python3 on this machine: nothing was printed in WebKit. Install: python3-gi gir1.2-webkit2-4.1 xvfb"
		if os.Getenv("CI") != "" {
			t.Fatal(text)
		}
		t.Skip("SKIPPED: " + text)
	}
	dir := t.TempDir()
	program := filepath.Join(dir, "print.py")
	file = filepath.Join(dir, "print.pdf")
	if err := os.WriteFile(program, printWebKit, 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), patience)
	defer stop()
	c := exec.CommandContext(ctx, "xvfb-run", "-a", "-s", "-screen 0 1600x1200x24", python, program, address, script, file, fmt.Sprint(on.Width), fmt.Sprint(on.Height), fmt.Sprint(on.Margin))
	c.Env = append(os.Environ(), "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1", "XDG_DATA_HOME="+dir, "XDG_CACHE_HOME="+dir, "LIBGL_ALWAYS_SOFTWARE=1")
	if said, err := c.CombinedOutput(); err != nil {
		t.Fatalf("printing %s in WebKit: %v\n%s", address, err, said)
	}
	return file
}
