package browser

import "encoding/base64"

// Step is one step of a hand: where the pointer is after it, in CSS pixels of the window, and how long it takes.
type Step struct{ X, Y, MS int }

// Pull presses the pointer down at the first place, moves it from step to step, and lets it go at the last.
func (b *Browser) Pull(from Step, way ...Step) {
	b.t.Helper()
	move := func(s Step) map[string]any {
		return map[string]any{"type": "pointerMove", "duration": s.MS, "origin": "viewport", "x": s.X, "y": s.Y}
	}
	steps := []map[string]any{move(from), {"type": "pointerDown", "button": 0}}
	for _, s := range way {
		steps = append(steps, move(s))
	}
	b.act(map[string]any{"type": "pointer", "id": "hand", "parameters": map[string]any{"pointerType": "mouse"}, "actions": append(steps, map[string]any{"type": "pointerUp", "button": 0})})
}

// Wheel turns the wheel over a place of the window so many times, by so many pixels each time, one turn after the other.
func (b *Browser) Wheel(x, y, dy, times, ms int) {
	b.t.Helper()
	turns := []map[string]any{}
	for range times {
		turns = append(turns, map[string]any{"type": "scroll", "x": x, "y": y, "deltaX": 0, "deltaY": dy, "duration": ms, "origin": "viewport"})
	}
	b.act(map[string]any{"type": "wheel", "id": "wheel", "actions": turns})
}

// Box brings an element into view and is where it stands in the window: left, top, width, height.
func (b *Browser) Box(css string) (box [4]float64) {
	b.t.Helper()
	b.shown(css)
	b.Run(&box, "const e = document.querySelector(arguments[0]); e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return [r.left, r.top, r.width, r.height]", css)
	return box
}

// Before runs a script in every page from now on before any of its own. Chromium's driver alone can.
func (b *Browser) Before(script string) {
	b.t.Helper()
	b.call("POST", "/goog/cdp/execute", map[string]any{"cmd": "Page.addScriptToEvaluateOnNewDocument", "params": map[string]any{"source": script}}, nil)
}

// Printed is the page as it is printed, a PDF: on A4, or on whatever paper the page itself asks for. Chromium's driver alone can;
// the other's prints nothing.
func (b *Browser) Printed() []byte {
	b.t.Helper()
	var made struct{ Data string }
	paper := map[string]any{"preferCSSPageSize": true, "printBackground": false, "paperWidth": 210 / 25.4, "paperHeight": 297 / 25.4}
	b.call("POST", "/goog/cdp/execute", map[string]any{"cmd": "Page.printToPDF", "params": paper}, &made)
	pdf, err := base64.StdEncoding.DecodeString(made.Data)
	if err != nil {
		b.t.Fatal(err)
	}
	return pdf
}
