package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// codeStays is how long a code lets a device in.
const codeStays = time.Hour

// codeSigns are what codes are made of: what can be read out over a site and typed in gloves.
const codeSigns = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

const codeLength = 8

// Enrolment is a code by which one device is let in.
type Enrolment struct {
	Code string    `json:"code"`
	Ends time.Time `json:"ends"`
}

// Device is one that was let in.
type Device struct {
	ID      string     `json:"id"`
	Name    string     `json:"name"`
	LetIn   time.Time  `json:"let_in"`
	Heard   time.Time  `json:"heard"` // when it last came with something, to the minute
	ShutOut *time.Time `json:"shut_out,omitempty"`
	Records int        `json:"records"` // that it brought
}

// Enrol makes a code. Codes are kept as their sums alone.
func (s *Store) Enrol(ctx context.Context) (Enrolment, error) {
	e := Enrolment{Code: signs(codeLength), Ends: fromMilliseconds(milliseconds(s.now().Add(codeStays)))}
	err := s.quietly(ctx, func(tx *sql.Tx) error {
		return write(ctx, tx,
			row{"DELETE FROM enrolments WHERE ends < ?", []any{milliseconds(s.now())}},
			row{"INSERT INTO enrolments (code, ends, device) VALUES (?, ?, '')", []any{hashOf([]byte(e.Code)), milliseconds(e.Ends)}})
	})
	return e, err
}

// signs is a text by chance that nobody guesses.
func signs(n int) string {
	b := make([]byte, n)
	rand.Read(b) // it never fails
	for i := range b {
		b[i] = codeSigns[int(b[i])%len(codeSigns)]
	}
	return string(b)
}

// typed is a code as it was made, however a person writes it.
func typed(code string) string {
	code = strings.ToUpper(strings.Join(strings.FieldsFunc(code, func(r rune) bool { return r == ' ' || r == '-' }), ""))
	return strings.NewReplacer("O", "0", "I", "1", "L", "1").Replace(code)
}

// LetIn lets a device in by a code and gives what it is known by from now on; what it was known by before ends. The same device may
// come with the same code again within its time: its answer may have been lost. An empty id is given one.
func (s *Store) LetIn(ctx context.Context, code, id, name string) (Device, string, error) {
	if name = strings.TrimSpace(name); name == "" {
		return Device{}, "", refuse(Unfit, "Say whose it is, or where it is used: Gang 2, phone of the foreman", "the device has no name")
	}
	if err := written("the device's name", name); err != nil {
		return Device{}, "", err
	}
	if id == "" {
		id = signs(26)
	}
	if !isName(id) {
		return Device{}, "", refuse(Unfit, "Letters, digits and dashes, at most 40", "%s cannot be the id of a device", shortened(id))
	}
	token := rand.Text()
	var d Device
	err := s.quietly(ctx, func(tx *sql.Tx) error {
		now := milliseconds(s.now())
		sum := hashOf([]byte(typed(code)))
		var by string
		err := tx.QueryRowContext(ctx, "SELECT device FROM enrolments WHERE code = ? AND ends >= ?", sum, now).Scan(&by)
		if errors.Is(err, sql.ErrNoRows) || err == nil && by != "" && by != id {
			return refuse(Unfit, "Have the office make another one: it is good for an hour and for one device", "this code lets nobody in: it was used, has ended, or was mistyped")
		}
		if err != nil {
			return err
		}
		if err := write(ctx, tx,
			row{"UPDATE enrolments SET device = ? WHERE code = ?", []any{id, sum}},
			row{`INSERT INTO devices (id, name, token, let_in, heard, shut_out, records) VALUES (?, ?, ?, ?, ?, 0, 0) ON CONFLICT (id) DO UPDATE SET
				name = excluded.name, token = excluded.token, let_in = excluded.let_in, heard = excluded.heard, shut_out = 0`,
				[]any{id, name, hashOf([]byte(token)), now, now}}); err != nil {
			return err
		}
		d, err = device(ctx, tx, "id", id)
		return err
	})
	if err != nil {
		return Device{}, "", err
	}
	return d, token, nil
}

// wayIn is what to do on a device that is not let in.
const wayIn = "What was recorded on it stays on it and can be saved as a file; to send it, have the office make a code and type that in on the device"

// Known is the device that is known by a token and may come; Refused: nobody is, or it was shut out.
func (s *Store) Known(ctx context.Context, token string) (Device, error) {
	d, err := device(ctx, s.read, "token", hashOf([]byte(token)))
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Device{}, refuse(Unknown, wayIn, "this device is not known here")
	case err != nil:
		return Device{}, said(err)
	case d.ShutOut != nil:
		return d, refuse(Unknown, wayIn, "this device was shut out")
	}
	return d, nil
}

// Devices are all that were ever let in, the last first.
func (s *Store) Devices(ctx context.Context) ([]Device, error) {
	list, err := rows(ctx, s.read, scanDevice, deviceQuery+" ORDER BY let_in DESC, id")
	return list, said(err)
}

// ShutOut lets a device in no more. What it brought stays.
func (s *Store) ShutOut(ctx context.Context, id string) (Device, error) {
	var d Device
	err := s.quietly(ctx, func(tx *sql.Tx) error {
		if err := write(ctx, tx, row{"UPDATE devices SET shut_out = ? WHERE id = ? AND shut_out = 0", []any{milliseconds(s.now()), id}}); err != nil {
			return err
		}
		var err error
		if d, err = device(ctx, tx, "id", id); errors.Is(err, sql.ErrNoRows) {
			return refuse(NotThere, "Look at the list of devices", "no device is called %s here", shortened(id))
		}
		return err
	})
	return d, err
}

// quietly changes what is nobody's news.
func (s *Store) quietly(ctx context.Context, do func(tx *sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return said(err)
	}
	defer tx.Rollback()
	if err := do(tx); err != nil {
		return said(err)
	}
	return said(tx.Commit())
}

const deviceQuery = "SELECT id, name, let_in, heard, shut_out, records FROM devices"

// device is the one with something in a column, or sql.ErrNoRows.
func device(ctx context.Context, tx reader, column, is string) (Device, error) {
	return scanDevice(tx.QueryRowContext(ctx, deviceQuery+" WHERE "+column+" = ?", is).Scan)
}

func scanDevice(scan func(...any) error) (d Device, err error) {
	var in, heard, out int64
	err = scan(&d.ID, &d.Name, &in, &heard, &out, &d.Records)
	d.LetIn, d.Heard = fromMilliseconds(in), fromMilliseconds(heard)
	if out > 0 {
		at := fromMilliseconds(out)
		d.ShutOut = &at
	}
	return d, err
}

// heard notes that a device came, and with how many records that were not here.
func heard(ctx context.Context, tx *sql.Tx, device string, records int, at int64) error {
	const minute = 60_000 // ms
	return write(ctx, tx, row{"UPDATE devices SET heard = max(heard, ?1), records = records + ?2 WHERE id = ?3 AND (?2 > 0 OR heard < ?1 - ?4)", []any{at, records, device, minute}})
}
