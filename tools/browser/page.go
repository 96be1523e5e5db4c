package browser

import (
	"encoding/base64"
	"encoding/json"
	"strings"
	"time"
)

// element is the name under which WebDriver hands elements over.
const element = "element-6066-11e4-a52e-4f735466cecf"

// Go opens an address.
func (b *Browser) Go(address string) {
	b.t.Helper()
	b.call("POST", "/url", map[string]any{"url": address}, nil)
}

// Reload opens the page anew.
func (b *Browser) Reload() { b.t.Helper(); b.call("POST", "/refresh", nil, nil) }

// Size sets the window so that the page itself has this many CSS pixels.
func (b *Browser) Size(width, height int) {
	b.t.Helper()
	outer, more := [2]int{width, height}, [2]int{}
	for range 4 {
		b.call("POST", "/window/rect", map[string]any{"width": outer[0], "height": outer[1]}, nil)
		time.Sleep(150 * time.Millisecond)
		var in [2]int
		b.Run(&in, "return [innerWidth, innerHeight]")
		if in == [2]int{width, height} {
			return
		}
		more = [2]int{width - in[0], height - in[1]}
		outer = [2]int{outer[0] + more[0], outer[1] + more[1]}
	}
}

// Window is the window that steps are done in.
func (b *Browser) Window() (handle string) {
	b.t.Helper()
	b.call("GET", "/window", nil, &handle)
	return handle
}

// NewWindow opens one more window of the same browser, and goes on in it.
func (b *Browser) NewWindow() (handle string) {
	b.t.Helper()
	var made struct{ Handle string }
	b.call("POST", "/window/new", map[string]any{"type": "tab"}, &made)
	b.Switch(made.Handle)
	return made.Handle
}

// CloseWindow closes the window at hand; go on in another.
func (b *Browser) CloseWindow() { b.t.Helper(); b.call("DELETE", "/window", nil, nil) }

// Switch goes on in another window.
func (b *Browser) Switch(handle string) {
	b.t.Helper()
	b.call("POST", "/window", map[string]any{"handle": handle}, nil)
}

// Run runs a script in the page: out gets what it returns.
func (b *Browser) Run(out any, script string, args ...any) {
	b.t.Helper()
	if args == nil {
		args = []any{}
	}
	b.call("POST", "/execute/sync", map[string]any{"script": script, "args": args}, out)
}

// Await runs a script that returns a promise and gives what that comes to.
func (b *Browser) Await(out any, script string, args ...any) {
	b.t.Helper()
	if args == nil {
		args = []any{}
	}
	body := "const done = arguments[arguments.length-1]; (async () => {" + script + "})().then(v => done({ok: v ?? null}), e => done({fault: String(e)}))"
	var answer struct {
		OK    json.RawMessage
		Fault string
	}
	b.call("POST", "/execute/async", map[string]any{"script": body, "args": args}, &answer)
	if answer.Fault != "" {
		b.t.Fatalf("%s: %s", b.Engine, answer.Fault)
	}
	if out != nil {
		if err := json.Unmarshal(answer.OK, out); err != nil {
			b.t.Fatal(err)
		}
	}
}

// Until waits until a script returns something true, and fails after the time given. A script that throws has not found what it
// looks for: the page may be drawing that anew.
func (b *Browser) Until(limit time.Duration, script string, args ...any) {
	b.t.Helper()
	for end := time.Now().Add(limit); ; time.Sleep(40 * time.Millisecond) {
		var answer struct {
			Yes   bool
			Fault string
		}
		b.Run(&answer, "try { return {yes: !!(() => {"+script+"})()} } catch (e) { return {fault: String(e)} }", args...)
		if answer.Yes {
			return
		}
		if time.Now().After(end) {
			var text string
			b.Run(&text, "return document.body.innerText.slice(0, 20000)")
			b.t.Fatalf("%s: after %s still not: %s %q %s\nThe page says:\n%s\nIts log:\n%v", b.Engine, limit, script, args, answer.Fault, text, b.Log())
		}
	}
}

// Says waits until the page shows a text.
func (b *Browser) Says(text string) {
	b.t.Helper()
	b.Until(90*time.Second, "return document.body.innerText.includes(arguments[0])", text)
}

// shown waits for an element.
func (b *Browser) shown(css string) {
	b.t.Helper()
	b.Until(90*time.Second, "return document.querySelector(arguments[0]).getClientRects().length", css)
}

// at waits for an element, brings it into the middle of the window, where nothing lies over it, and does something there. Where
// the page draws the element anew meanwhile, it is looked for again.
func (b *Browser) at(css string, do func(path string) error) {
	b.t.Helper()
	for end := time.Now().Add(90 * time.Second); ; {
		b.shown(css)
		b.Run(nil, "document.querySelector(arguments[0])?.scrollIntoView({block: 'center'})", css)
		var found map[string]string
		err := b.try("POST", "/element", map[string]any{"using": "css selector", "value": css}, &found)
		if err == nil {
			err = do("/element/" + found[element])
		}
		if err == nil {
			return
		}
		if time.Now().After(end) || !strings.Contains(err.Error(), "stale element") && !strings.Contains(err.Error(), "no such element") {
			b.t.Fatalf("%s: %s: %v", b.Engine, css, err)
		}
	}
}

// Click clicks an element.
func (b *Browser) Click(css string) {
	b.t.Helper()
	b.at(css, func(path string) error { return b.try("POST", path+"/click", nil, nil) })
}

// Type puts text into a field, after what stands there.
func (b *Browser) Type(css, text string) {
	b.t.Helper()
	b.at(css, func(path string) error { return b.try("POST", path+"/value", map[string]any{"text": text}, nil) })
}

// Fill puts text into a field in place of what stands there.
func (b *Browser) Fill(css, text string) {
	b.t.Helper()
	b.at(css, func(path string) error {
		if err := b.try("POST", path+"/clear", nil, nil); err != nil {
			return err
		}
		return b.try("POST", path+"/value", map[string]any{"text": text}, nil)
	})
}

// Keys presses keys where the focus is.
func (b *Browser) Keys(keys ...string) {
	b.t.Helper()
	var steps []map[string]any
	for _, k := range keys {
		steps = append(steps, map[string]any{"type": "keyDown", "value": k}, map[string]any{"type": "keyUp", "value": k})
	}
	b.act(map[string]any{"type": "key", "id": "keys", "actions": steps})
}

// Chord presses a key while another is held down.
func (b *Browser) Chord(held, key string) {
	b.t.Helper()
	b.act(map[string]any{"type": "key", "id": "keys", "actions": []map[string]any{
		{"type": "keyDown", "value": held}, {"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}, {"type": "keyUp", "value": held},
	}})
}

// Drag moves the pointer from one place of an element to another, in CSS pixels from its left upper corner, in steps.
func (b *Browser) Drag(css string, from, to [2]int, steps int) {
	b.t.Helper()
	var box [2]float64
	b.shown(css)
	b.Run(&box, "const r = document.querySelector(arguments[0]).getBoundingClientRect(); return [r.left, r.top]", css)
	at := func(p [2]int, ms int) map[string]any {
		return map[string]any{"type": "pointerMove", "duration": ms, "origin": "viewport", "x": int(box[0]) + p[0], "y": int(box[1]) + p[1]}
	}
	way := []map[string]any{at(from, 0), {"type": "pointerDown", "button": 0}}
	for i := 1; i <= steps; i++ {
		way = append(way, at([2]int{from[0] + (to[0]-from[0])*i/steps, from[1] + (to[1]-from[1])*i/steps}, 16))
	}
	way = append(way, map[string]any{"type": "pointerUp", "button": 0})
	b.act(map[string]any{"type": "pointer", "id": "hand", "parameters": map[string]any{"pointerType": "mouse"}, "actions": way})
}

func (b *Browser) act(sources ...map[string]any) {
	b.t.Helper()
	b.call("POST", "/actions", map[string]any{"actions": sources}, nil)
}

// Picture is what the window shows, as PNG.
func (b *Browser) Picture() []byte {
	b.t.Helper()
	var text string
	b.call("GET", "/screenshot", nil, &text)
	png, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		b.t.Fatal(err)
	}
	return png
}

// Line is what a browser told its console as an error, and when.
type Line struct {
	At   time.Time
	Text string
}

// Log is what was told to the console as errors since the last time. WebKitGTK's driver hands no log over: pages tell theirs
// through window.faults where tests set it.
func (b *Browser) Log() []Line {
	var lines []struct {
		Level, Message string
		Timestamp      int64 // ms
	}
	if b.Engine == "chromium" {
		if b.try("POST", "/se/log", map[string]any{"type": "browser"}, &lines) != nil {
			return nil
		}
	}
	var out []Line
	for _, l := range lines {
		if l.Level == "SEVERE" {
			out = append(out, Line{time.UnixMilli(l.Timestamp), l.Message})
		}
	}
	return out
}
