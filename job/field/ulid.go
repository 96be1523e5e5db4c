package field

// alphabet of ULIDs: Crockford's base 32 (no I, L, O, U). The form is that of https://github.com/ulid/spec: 48 bits of milliseconds
// since 1970, 80 bits of chance, most significant first, in 26 characters.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// ULID is an id made of a time in milliseconds since 1970 and ten bytes of chance. Time is only there to keep ids roughly in order.
func ULID(ms int64, chance [10]byte) string {
	var b [16]byte
	for i := range 6 {
		b[i] = byte(ms >> (8 * (5 - i)))
	}
	copy(b[6:], chance[:])
	var text [26]byte
	for i := range text {
		// character i holds bits 5i-2 to 5i+2 of the 128: the first holds three bits alone
		v := 0
		for bit := 5*i - 2; bit <= 5*i+2; bit++ {
			v <<= 1
			if bit >= 0 {
				v |= int(b[bit/8]>>(7-bit%8)) & 1
			}
		}
		text[i] = alphabet[v]
	}
	return string(text[:])
}

// isULID tells whether text has the form of one.
func isULID(text string) bool {
	if len(text) != 26 || text[0] > '7' {
		return false
	}
	for i := range len(text) {
		if !inAlphabet(text[i]) {
			return false
		}
	}
	return true
}

func inAlphabet(c byte) bool {
	switch {
	case c >= '0' && c <= '9':
		return true
	case c == 'I', c == 'L', c == 'O', c == 'U':
		return false
	}
	return c >= 'A' && c <= 'Z'
}
