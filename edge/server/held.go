package server

import (
	"container/list"
	"sync"
)

// held is what was asked for last, in memory: the same plan is asked for by everybody who opens a job, and never changes.
// What was not asked for the longest time goes first.
type held struct {
	lock sync.Mutex
	room int // bytes
	used int
	by   map[string]*list.Element
	late *list.List // of holding, what was asked for last in front
}

type holding struct {
	name string
	b    []byte
}

// usualRoom is for some dozens of plans of long runs, packed.
const usualRoom = 64 << 20

func newHeld(room int) *held {
	return &held{room: room, by: map[string]*list.Element{}, late: list.New()}
}

func (h *held) get(name string) ([]byte, bool) {
	h.lock.Lock()
	defer h.lock.Unlock()
	e, ok := h.by[name]
	if !ok {
		return nil, false
	}
	h.late.MoveToFront(e)
	return e.Value.(holding).b, true
}

// put holds b, which nobody changes from now on. What takes more than a quarter of the room is not held.
func (h *held) put(name string, b []byte) {
	h.lock.Lock()
	defer h.lock.Unlock()
	if len(b) > h.room/4 || h.by[name] != nil {
		return
	}
	h.by[name] = h.late.PushFront(holding{name, b})
	for h.used += len(b); h.used > h.room; {
		last := h.late.Back()
		gone := h.late.Remove(last).(holding)
		delete(h.by, gone.name)
		h.used -= len(gone.b)
	}
}
