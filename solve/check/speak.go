package check

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
)

// Sentence is an answer in one sentence: both numbers, where the limit comes from, what comes of it, who decides.
func (a *Answer) Sentence(s wording.Speech) string {
	if len(a.Missing) > 0 {
		return a.What + ": " + a.NotChecked()
	}
	text := a.What + ": " + a.Value.Both(s.Imperial) + ", limit " + a.Limit.Both(s.Imperial)
	if a.From != "" {
		text += " (" + a.From + ")"
	}
	text += ": " + string(a.Verdict)
	if a.Verdict != finding.Meets && a.Decides != "" {
		text += ". " + upper(a.Decides) + " decides"
	}
	return text
}

// NotChecked says what nobody entered, and whom to ask.
func (a *Answer) NotChecked() string {
	var lines []string
	for _, m := range a.Missing {
		lines = append(lines, finding.NoneOnFile(m.What, m.Ask, a.Where).Text)
	}
	return strings.Join(lines, ". ")
}

// Findings are what an answer has to say beyond its own card.
func (a *Answer) Findings(s wording.Speech) finding.List {
	var list finding.List
	for _, m := range a.Missing {
		list = append(list, finding.NoneOnFile(m.What, m.Ask, a.Where))
	}
	if len(a.Missing) > 0 || a.Verdict == finding.Meets {
		return list
	}
	text := a.What + ": " + string(a.Verdict)
	if a.Stop {
		text += ". Hard stop: what it holds back is not handed out"
	}
	return append(list, finding.Finding{ID: a.ID, Kind: finding.Attention, Text: text, Where: a.Where, Value: a.Value.Both(s.Imperial),
		Limit: a.Limit.Both(s.Imperial), Rule: a.Rule.String(), Ask: a.Decides, Try: a.Try})
}

func upper(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
