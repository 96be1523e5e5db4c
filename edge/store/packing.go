package store

import (
	"bytes"
	"compress/gzip"
	"io"
)

// Packed is b packed by gzip: so the store keeps what is large, and so browsers take it.
func Packed(b []byte) []byte {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	w.Write(b) // into memory: it cannot fail
	w.Close()
	return out.Bytes()
}

// Unpacked reads what was packed.
func Unpacked(packed []byte) (io.Reader, error) { return gzip.NewReader(bytes.NewReader(packed)) }

// unpacked is what was packed, and an error if it is not size bytes.
func unpacked(b []byte, size int64) ([]byte, error) {
	r, err := Unpacked(b)
	if err != nil {
		return nil, err
	}
	out := make([]byte, 0, size)
	buffer := bytes.NewBuffer(out)
	n, err := io.Copy(buffer, io.LimitReader(r, size+1))
	if err == nil && n != size {
		err = refuse(Unusable, "Go on from the last backup", "something kept with %d bytes has %d", size, n)
	}
	return buffer.Bytes(), err
}
