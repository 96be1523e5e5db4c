package main

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"slices"
)

// The linker leaves noughts out of a module's data, one short segment after the other, each with its address: of a table that is
// nearly all noughts, 100,000 of them. Written out the noughts pack to next to nothing, the addresses do not: with the segments
// joined a module is 5 % smaller on the wire, and 7 % larger in the browser's memory while it starts.

// segment is a piece of a module's memory before it starts.
type segment struct {
	at    int64
	bytes []byte
}

// nearby is how many noughts between two segments are written out, bytes.
const nearby = 4096

var errModule = errors.New("this is no WebAssembly module as the linker writes them")

// joined is a module with the segments of its data in order and joined where little lies between. Its memory starts the same.
// The form is that of https://www.w3.org/TR/wasm-core-1/#binary-format: sections of a number, a length and so many bytes.
func joined(module []byte) ([]byte, error) {
	const header, data = 8, 11
	if len(module) < header {
		return nil, errModule
	}
	out := bytes.Clone(module[:header])
	for r := (reader{rest: module[header:]}); len(r.rest) > 0; {
		section := r.take(1)
		body := r.take(r.number())
		if r.broken {
			return nil, errModule
		}
		if section[0] == data {
			segments, err := segmentsOf(body)
			if err == nil {
				segments, err = join(segments)
			}
			if err != nil {
				return nil, err
			}
			body = written(segments)
		}
		out = binary.AppendUvarint(append(out, section[0]), uint64(len(body)))
		out = append(out, body...)
	}
	return out, nil
}

// join puts segments in order and joins those that lie near to each other. None lie over each other.
func join(all []segment) (out []segment, err error) {
	all = slices.DeleteFunc(all, func(s segment) bool { return len(s.bytes) == 0 })
	slices.SortFunc(all, func(a, b segment) int { return cmp.Compare(a.at, b.at) })
	for _, s := range all {
		if n := len(out) - 1; n >= 0 {
			last := &out[n]
			apart := s.at - last.at - int64(len(last.bytes))
			if apart < 0 {
				return nil, errModule
			}
			if apart <= nearby {
				last.bytes = append(append(last.bytes, make([]byte, apart)...), s.bytes...)
				continue
			}
		}
		out = append(out, segment{s.at, bytes.Clone(s.bytes)})
	}
	return out, nil
}

// What a segment says before its bytes: it goes into the one memory there is, at the constant that follows, which ends there.
const (
	activeConst = "\x00\x41" // memory 0, i32.const
	end         = "\x0b"
)

func segmentsOf(body []byte) (out []segment, err error) {
	r := reader{rest: body}
	for range r.number() {
		if string(r.take(len(activeConst))) != activeConst {
			return nil, errModule
		}
		s := segment{at: r.signed()}
		if string(r.take(len(end))) != end {
			return nil, errModule
		}
		s.bytes = r.take(r.number())
		out = append(out, s)
	}
	if r.broken || len(r.rest) > 0 {
		return nil, errModule
	}
	return out, nil
}

func written(all []segment) []byte {
	out := binary.AppendUvarint(nil, uint64(len(all)))
	for _, s := range all {
		out = append(appendSigned(append(out, activeConst...), s.at), end...)
		out = append(binary.AppendUvarint(out, uint64(len(s.bytes))), s.bytes...)
	}
	return out
}

// reader reads LEB128 numbers and bytes; what is not there breaks it.
type reader struct {
	rest   []byte
	broken bool
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.rest) {
		r.broken, n = true, len(r.rest)
	}
	b := r.rest[:n]
	r.rest = r.rest[n:]
	return b
}

func (r *reader) number() int {
	v, n := binary.Uvarint(r.rest)
	r.broken = r.broken || n <= 0
	r.take(max(0, n))
	return int(v)
}

func (r *reader) signed() (v int64) {
	for shift := 0; shift < 64; shift += 7 {
		b := r.take(1)
		if len(b) == 0 {
			break
		}
		v |= int64(b[0]&0x7f) << shift
		if b[0]&0x80 == 0 {
			if b[0]&0x40 != 0 && shift < 57 {
				v |= -1 << (shift + 7)
			}
			return v
		}
	}
	r.broken = true
	return 0
}

func appendSigned(out []byte, v int64) []byte {
	for {
		b := byte(v & 0x7f)
		v >>= 7
		if v == 0 && b&0x40 == 0 || v == -1 && b&0x40 != 0 {
			return append(out, b)
		}
		out = append(out, b|0x80)
	}
}
