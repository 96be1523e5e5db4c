package building

import "fmt"

// tell adds a sentence to what happened.
func (s *site) tell(format string, args ...any) {
	s.told = append(s.told, fmt.Sprintf("Day %d: ", s.day+1)+fmt.Sprintf(format, args...))
}
