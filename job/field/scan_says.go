package field

import "trenchwright/base/measure"

// What the commonest kinds say, read quickly. A member that is not named here is left to encoding/json.

// quick is what says something that scan can read.
type quick interface{ scan(*scan) }

// hears reads what a record says, if it is written as devices write it.
func (s *scan) hears(text []byte, says any) bool {
	q, ok := says.(quick)
	if !ok {
		return false
	}
	s.text, s.at, s.odd = text, 0, false
	q.scan(s)
	return s.end()
}

func (says *SetSays) scan(s *scan) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "within":
			says.Within = s.truth()
			return 0
		case "off":
			says.Off = []Off{}
			s.elements(func() { says.Off = append(says.Off, s.off()) })
			return 1
		case "plus":
			says.Plus = s.length()
			return 2
		case "supply":
			says.Supply = string(s.word())
			return 3
		case "batch":
			says.Batch = string(s.word())
			return 4
		case "lifted":
			says.Lifted = s.truth()
			return 5
		case "line":
			says.Line = s.kept()
			return 6
		}
		return -1
	})
}

func (s *scan) off() (off Off) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "place":
			off.Place = s.name()
			return 0
		case "by":
			off.By = s.length()
			return 1
		case "at":
			off.At = s.kept()
			return 2
		}
		return -1
	})
	return off
}

func (says *GapSays) scan(s *scan) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "left":
			says.Left = s.kept()
			return 0
		case "right":
			says.Right = s.kept()
			return 1
		case "plus":
			says.Plus = s.length()
			return 2
		}
		return -1
	})
}

func (says *LevelSays) scan(s *scan) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "of":
			says.Of = s.name()
			return 0
		case "level":
			says.Level = s.kept()
			return 1
		case "four":
			says.Four = make([]measure.Length, 0, 4)
			s.elements(func() { says.Four = append(says.Four, s.length()) })
			return 2
		case "plus":
			says.Plus = s.length()
			return 3
		case "within":
			says.Within = new(s.truth())
			return 4
		case "end":
			says.End = string(s.word())
			return 5
		case "read":
			says.Read = s.words()
			return 6
		}
		return -1
	})
}

func (says *LayerSays) scan(s *scan) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "number":
			says.Number = s.whole()
			return 0
		case "side":
			says.Side = s.name()
			return 1
		case "thick":
			says.Thick = s.length()
			return 2
		case "plant":
			says.Plant = string(s.word())
			return 3
		case "passes":
			says.Passes = s.whole()
			return 4
		case "top":
			says.Top = s.truth()
			return 5
		}
		return -1
	})
}

func (says *CoverSays) scan(s *scan) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "done":
			says.Done = s.name()
			return 0
		case "trimmed":
			says.Trimmed = s.words()
			return 1
		case "missing":
			says.Missing = s.words()
			return 2
		}
		return -1
	})
}

func (s *scan) words() []string {
	list := []string{}
	s.elements(func() { list = append(list, string(s.word())) })
	return list
}

func (says *DeliverySays) scan(s *scan) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "ticket":
			says.Ticket = string(s.word())
			return 0
		case "lines":
			says.Lines = []Delivered{}
			s.elements(func() { says.Lines = append(says.Lines, s.delivered()) })
			return 1
		case "goods":
			says.Goods = []Goods{}
			s.elements(func() { says.Goods = append(says.Goods, s.goods()) })
			return 2
		}
		return -1
	})
}

func (s *scan) goods() (g Goods) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "what":
			g.What = string(s.word())
			return 0
		case "amount":
			g.Amount = string(s.word())
			return 1
		case "batch":
			g.Batch = string(s.word())
			return 2
		}
		return -1
	})
	return g
}

func (s *scan) delivered() (d Delivered) {
	s.members(func(name []byte) int {
		switch string(name) {
		case "supply":
			d.Supply = string(s.word())
			return 0
		case "what":
			d.What = s.name()
			return 1
		case "length":
			d.Length = s.length()
			return 2
		case "mark":
			d.Mark = string(s.word())
			return 3
		case "came":
			d.Came = s.whole()
			return 4
		case "short":
			d.Short = s.whole()
			return 5
		case "damaged":
			d.Damaged = s.whole()
			return 6
		case "batch":
			d.Batch = string(s.word())
			return 7
		}
		return -1
	})
	return d
}
