package finding

import (
	"encoding/json"
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Sentence is what f says, whole: for a check that was not made, with whom to ask.
func (f Finding) Sentence() string {
	if f.Kind == NotChecked && f.Ask != "" && !strings.Contains(f.Text, "Ask: ") {
		return f.Text + ". Ask: " + f.Ask
	}
	return f.Text
}

// String is f on one line: where, kind, what. Chainages are in metres.
func (f Finding) String() string { return f.headline(wording.Speech{}) }

// Render is Say where no job has words of its own.
func (f Finding) Render(system measure.System) string { return f.Say(speech(system)) }

func speech(system measure.System) wording.Speech {
	return wording.Speech{Imperial: system == measure.Imperial}
}

// Say is f in plain lines, the last one without a line break: a headline, the excerpt, then what there is of limit and
// value, rule, whom to ask and what to try. Its place is in the words and the system of a job.
func (f Finding) Say(s wording.Speech) string {
	lines := []string{f.headline(s)}
	if f.Where.Excerpt != "" {
		for _, l := range strings.Split(f.Where.Excerpt, "\n") {
			lines = append(lines, strings.TrimRight("    "+l, " "))
		}
	}
	switch {
	case f.Limit != "" && f.Value != "":
		lines = append(lines, "  limit: "+f.Limit+", value: "+f.Value)
	case f.Limit != "":
		lines = append(lines, "  limit: "+f.Limit)
	case f.Value != "":
		lines = append(lines, "  value: "+f.Value)
	}
	if f.Rule != "" {
		lines = append(lines, "  rule: "+f.Rule)
	}
	if f.Ask != "" && !strings.Contains(f.Sentence(), "Ask: ") {
		lines = append(lines, "  ask: "+f.Ask)
	}
	if f.Try != "" {
		lines = append(lines, "  try: "+f.Try)
	}
	return strings.Join(lines, "\n")
}

// Render is Say where no job has words of its own.
func (l List) Render(system measure.System) string { return l.Say(speech(system)) }

// Say is every finding of l in plain lines, in l's order, a line break behind each.
func (l List) Say(s wording.Speech) string {
	var b strings.Builder
	for _, f := range l {
		b.WriteString(f.Say(s))
		b.WriteByte('\n')
	}
	return b.String()
}

// Count is how many findings of the kind are in l.
func (l List) Count(kind Kind) int {
	n := 0
	for _, f := range l {
		if f.Kind == kind {
			n++
		}
	}
	return n
}

// headline is place, kind and sentence. NOT CHECKED already says its kind.
func (f Finding) headline(s wording.Speech) string {
	text := f.Sentence()
	if f.Kind != "" && !strings.HasPrefix(text, "NOT CHECKED") {
		text = string(f.Kind) + ": " + text
	}
	if place := f.Where.In(s); place != "" {
		return place + ": " + text
	}
	return text
}

// String is the place in words, chainages in metres.
func (w Where) String() string { return w.In(wording.Speech{}) }

// In is the place in words: the place in a text as file:line:column, else the path in the job; then the leg, the
// chainage (metres, or hundreds of feet + feet) and the place on the leg.
func (w Where) In(s wording.Speech) string {
	var parts []string
	if text := w.inText(); text != "" {
		parts = append(parts, text)
	} else if w.Path != "" {
		parts = append(parts, w.Path)
	}
	if w.Leg != "" {
		parts = append(parts, "leg "+w.Leg)
	}
	chainage := s.Word(wording.Chainage) + " "
	switch {
	case w.Chainage != nil && s.Imperial:
		parts = append(parts, chainage+measure.Chainage(*w.Chainage, measure.Imperial, 2))
	case w.Chainage != nil:
		parts = append(parts, chainage+measure.Format{Survey: true, Places: 3}.Length(*w.Chainage))
	case w.ChainageM != "":
		parts = append(parts, chainage+w.ChainageM+" m")
	}
	if w.Place != "" {
		parts = append(parts, "place "+w.Place)
	}
	return strings.Join(parts, ", ")
}

// inText is file:line:column, or the same in words where no file has a name.
func (w Where) inText() string {
	switch {
	case w.File != "" && w.Line > 0 && w.Column > 0:
		return fmt.Sprintf("%s:%d:%d", w.File, w.Line, w.Column)
	case w.File != "" && w.Line > 0:
		return fmt.Sprintf("%s:%d", w.File, w.Line)
	case w.File != "":
		return w.File
	case w.Line > 0 && w.Column > 0:
		return fmt.Sprintf("line %d, column %d", w.Line, w.Column)
	case w.Line > 0:
		return fmt.Sprintf("line %d", w.Line)
	}
	return ""
}

// IsZero tells that w names no place; an excerpt alone is none.
func (w Where) IsZero() bool {
	w.Excerpt = ""
	return w == Where{}
}

// stored is Where as JSON has it.
type stored Where

// MarshalJSON writes w with its chainage in exact metres. The excerpt is for people and stays out.
func (w Where) MarshalJSON() ([]byte, error) {
	if w.Chainage != nil {
		w.ChainageM = w.Chainage.MString()
	}
	return json.Marshal(stored(w))
}

// UnmarshalJSON reads w and its chainage.
func (w *Where) UnmarshalJSON(data []byte) error {
	var s stored
	if err := json.Unmarshal(data, &s); err != nil {
		return err
	}
	if s.ChainageM != "" {
		r, err := measure.ParseIn(s.ChainageM, measure.UnitMetre)
		if err != nil {
			return fmt.Errorf("chainage_m: %w", err)
		}
		s.Chainage = &r.Length
	}
	*w = Where(s)
	return nil
}
