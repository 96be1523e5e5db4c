package check

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
)

// Said is an answer in words, figures in both unit systems, as papers, screens and other programs take it.
type Said struct {
	ID       string        `json:"id"`
	For      string        `json:"for,omitempty"` // id of what of the job it is about, where its place does not say so: a lift, and /cut for its heaviest cut piece
	What     string        `json:"what"`
	Where    finding.Where `json:"where,omitzero"`
	Verdict  string        `json:"verdict"` // one of the three, or "" where something is not on file
	Value    string        `json:"value"`
	Limit    string        `json:"limit"`
	From     string        `json:"from"` // of the limit
	Sentence string        `json:"sentence"`
	Given    []SaidFigure  `json:"given"`
	Working  []SaidStep    `json:"working"`
	Rule     string        `json:"rule"`
	Missing  []string      `json:"not_checked"`
	Cautions []string      `json:"cautions"`
	Decides  string        `json:"decides"`
	Try      string        `json:"try,omitempty"`
	Stop     bool          `json:"stop,omitempty"` // a hard stop where it does not meet its figure or nobody can say
}

// SaidFigure is one figure that went in, and where it came from.
type SaidFigure struct {
	Name string `json:"name"`
	Is   string `json:"is"`
	From string `json:"from"`
}

// SaidStep is one line of the working.
type SaidStep struct {
	Name string `json:"name"`
	How  string `json:"how"`
	Is   string `json:"is"`
}

// layers are those of fill as the speech calls them.
func layers(s wording.Speech) *strings.Replacer {
	return strings.NewReplacer("layers", s.Word(wording.Layers), "layer", s.Word(wording.Layer))
}

// Said is the answer in words, those of the United States where the speech is theirs.
func (a *Answer) Said(s wording.Speech) Said {
	say := s.Reworded
	if strings.HasPrefix(a.ID, "compaction.") { // cables lie in layers on both sides of the ocean
		say = func(text string) string { return s.Reworded(layers(s).Replace(text)) }
	}
	out := Said{ID: a.ID, For: a.For, What: say(a.What), Where: a.Where, Verdict: string(a.Verdict), Value: a.Value.Both(s.Imperial), Limit: a.Limit.Both(s.Imperial), From: a.From,
		Sentence: say(a.Sentence(s)), Given: []SaidFigure{}, Working: []SaidStep{}, Rule: say(a.Rule.Says) + " (" + say(a.Rule.String()) + ")", Missing: []string{},
		Cautions: []string{}, Decides: a.Decides, Try: say(a.Try), Stop: a.Stop}
	for _, c := range a.Cautions {
		out.Cautions = append(out.Cautions, say(c))
	}
	for _, g := range a.Given {
		out.Given = append(out.Given, SaidFigure{say(g.Name), g.Is.Both(s.Imperial), g.From})
	}
	for _, w := range a.Working {
		out.Working = append(out.Working, SaidStep{say(w.Name), say(w.How), w.Is.Both(s.Imperial)})
	}
	for _, m := range a.Missing {
		out.Missing = append(out.Missing, say(finding.NoneOnFile(m.What, m.Ask, a.Where).Text))
	}
	return out
}
