package browser

// Hold presses a mouse down at a place of the window and moves it on from step to step, without letting go: what the
// page shows meanwhile can be looked at. Move goes on, Let go ends it.
func (b *Browser) Hold(from Step, way ...Step) {
	b.t.Helper()
	steps := []map[string]any{moveTo(from), {"type": "pointerDown", "button": 0}}
	for _, s := range way {
		steps = append(steps, moveTo(s))
	}
	b.pointer("mouse", steps)
}

// Move goes on with what Hold began.
func (b *Browser) Move(way ...Step) {
	b.t.Helper()
	var steps []map[string]any
	for _, s := range way {
		steps = append(steps, moveTo(s))
	}
	b.pointer("mouse", steps)
}

// LetGo lifts the pointer where it is.
func (b *Browser) LetGo() {
	b.t.Helper()
	b.pointer("mouse", []map[string]any{{"type": "pointerUp", "button": 0}})
}

// Finger puts a finger down, moves it from step to step, and lifts it: a tap where there are none. Chromium's driver alone has one.
func (b *Browser) Finger(from Step, way ...Step) {
	b.t.Helper()
	steps := []map[string]any{moveTo(from), {"type": "pointerDown", "button": 0}}
	for _, s := range way {
		steps = append(steps, moveTo(s))
	}
	b.pointer("touch", append(steps, map[string]any{"type": "pointerUp", "button": 0}))
}

func (b *Browser) pointer(kind string, steps []map[string]any) {
	b.t.Helper()
	b.act(map[string]any{"type": "pointer", "id": kind, "parameters": map[string]any{"pointerType": kind}, "actions": steps})
}

func moveTo(s Step) map[string]any {
	return map[string]any{"type": "pointerMove", "duration": s.MS, "origin": "viewport", "x": s.X, "y": s.Y}
}
