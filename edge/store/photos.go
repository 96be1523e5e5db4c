package store

import (
	"context"
	"database/sql"
)

// What a photo, a voice note or a piece of one may have at most, in bytes.
const (
	MostPhoto = 64 << 20
	MostPiece = 1 << 20
)

// PhotoHere is how much of a photo is here.
type PhotoHere struct {
	Bytes int64 // from its beginning, without a gap
	Whole bool
}

// Photo tells how much of the photo with a SHA-256 sum is here.
func (s *Store) Photo(ctx context.Context, sum string) (PhotoHere, error) {
	if !isSHA256(sum) {
		return PhotoHere{}, refuse(Unfit, "64 hexadecimal digits in small letters", "%s is no SHA-256 sum", shortened(sum))
	}
	return look(ctx, s, func(tx *sql.Tx) (PhotoHere, error) { return photoHere(ctx, tx, sum) })
}

func photoHere(ctx context.Context, tx reader, sum string) (h PhotoHere, err error) {
	if err = tx.QueryRowContext(ctx, "SELECT count(*) > 0, coalesce(max(size), 0) FROM attachments WHERE sha256 = ?", sum).Scan(&h.Whole, &h.Bytes); err != nil || h.Whole {
		return h, err
	}
	return h, tx.QueryRowContext(ctx, "SELECT coalesce(max(start + length(bytes)), 0) FROM pieces WHERE sha256 = ?", sum).Scan(&h.Bytes)
}

// Piece is part of a photo.
type Piece struct {
	SHA256       string // of the whole photo
	Start, Total int64  // bytes
	Bytes        []byte
	By           string // the device that brings it; empty: the office
}

// PutPiece keeps a piece of a photo and tells how much is here. A piece that begins before what is here ends, or behind it, is left
// alone: the answer says where to go on. With the last piece the photo is an attachment, if it has its sum; if it has another,
// nothing of it stays.
func (s *Store) PutPiece(ctx context.Context, p Piece) (PhotoHere, error) {
	if err := p.check(); err != nil {
		return PhotoHere{}, err
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return PhotoHere{}, said(err)
	}
	defer tx.Rollback()
	here, wrong, err := p.put(ctx, tx, milliseconds(s.now()))
	if err == nil {
		err = tx.Commit()
	}
	if err != nil {
		return PhotoHere{}, said(err)
	}
	return here, wrong
}

func (p Piece) check() error {
	switch n := int64(len(p.Bytes)); {
	case !isSHA256(p.SHA256):
		return refuse(Unfit, "64 hexadecimal digits in small letters", "%s is no SHA-256 sum", shortened(p.SHA256))
	case p.Total > MostPhoto:
		return refuse(TooLarge, "Keep it on the device and send a smaller one", "the photo has %d bytes; the most is %s", p.Total, size(MostPhoto))
	case n > MostPiece:
		return refuse(TooLarge, "Send it in smaller pieces", "the piece has %d bytes; the most is %s", n, size(MostPiece))
	case n == 0, p.Start < 0, p.Start+n > p.Total:
		return refuse(Unfit, "Say which bytes of how many these are", "bytes %d to %d of %d are no piece of a photo", p.Start, p.Start+n-1, p.Total)
	}
	return nil
}

// put gives what is wrong with the photo apart from what went wrong: with the former, all that was here of it goes.
func (p Piece) put(ctx context.Context, tx *sql.Tx, at int64) (here PhotoHere, wrong, err error) {
	here, err = photoHere(ctx, tx, p.SHA256)
	if err != nil || here.Whole || p.Start != here.Bytes {
		return here, nil, err
	}
	if p.By != "" {
		if err := heard(ctx, tx, p.By, 0, at); err != nil {
			return here, nil, err
		}
	}
	err = write(ctx, tx, row{"INSERT INTO pieces (sha256, start, bytes, at) VALUES (?, ?, ?, ?)", []any{p.SHA256, p.Start, p.Bytes, at}})
	if err != nil {
		return here, nil, err
	}
	here.Bytes += int64(len(p.Bytes))
	if here.Bytes < p.Total {
		return here, nil, nil
	}
	parts, err := rows(ctx, tx, func(scan func(...any) error) (b []byte, err error) { return b, scan(&b) }, "SELECT bytes FROM pieces WHERE sha256 = ? ORDER BY start", p.SHA256)
	if err != nil {
		return here, nil, err
	}
	whole := make([]byte, 0, here.Bytes)
	for _, b := range parts {
		whole = append(whole, b...)
	}
	if got := hashOf(whole); got != p.SHA256 {
		wrong = refuse(Conflict, "Send it again from its beginning", "the photo that came has the SHA-256 sum %s, not %s: it was damaged on the way", got, p.SHA256)
		here = PhotoHere{}
	} else if err := putAttachment(ctx, tx, p.SHA256, whole); err != nil {
		return here, nil, err
	} else {
		here.Whole = true
	}
	return here, wrong, write(ctx, tx, row{"DELETE FROM pieces WHERE sha256 = ?", []any{p.SHA256}})
}
