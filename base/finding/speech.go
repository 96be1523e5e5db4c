package finding

import (
	"regexp"
	"strings"
	"sync"
)

// patterns are the words that are never a verdict, and the forms of what is said.
type patterns struct{ verdict, clear, noneOnFile, id, quotation *regexp.Regexp }

// spoken compiles the patterns when Speech is first asked: programs that never ask it do not carry them.
var spoken struct {
	once sync.Once
	patterns
}

func rules() *patterns {
	spoken.once.Do(func() {
		spoken.patterns = patterns{
			verdict:    regexp.MustCompile(`(?i)\b(safe|safely|unsafe|approved|certified|guaranteed|compliant|foolproof)\b`),
			clear:      regexp.MustCompile(`(?i)\b((is|are|was|were|be|been|all|reads?|route|way) clear\b|clear to (dig|lift|proceed|go|work)\b|clear$|clear[.;!])`),
			noneOnFile: regexp.MustCompile(`^NOT CHECKED: no .+ on file\b.*\. Ask: \S`),
			id:         regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9]+(-[a-z0-9]+)*)+$`),
			quotation:  regexp.MustCompile(`"(\\.|[^"\\])*"`),
		}
	})
	return &spoken.patterns
}

var kinds = []Kind{Fault, Impossible, Attention, NotChecked, Assumed, Note}

// Speech lists what f says against the rules of speech; nothing when it says all as it should. It is meant for tests of
// whatever makes findings.
func Speech(f Finding) []string {
	var out []string
	report := func(broken bool, what string) {
		if broken {
			out = append(out, what)
		}
	}
	known := false
	for _, k := range kinds {
		known = known || f.Kind == k
	}
	report(!known, "the kind "+string(f.Kind)+" is none of ours")
	report(!rules().id.MatchString(f.ID), "the id "+f.ID+" is not dotted small letters")
	report(f.Text == "", "no text")
	for _, part := range []struct{ name, text string }{
		{"text", f.Text}, {"limit", f.Limit}, {"value", f.Value}, {"rule", f.Rule}, {"ask", f.Ask}, {"try", f.Try},
	} {
		out = append(out, phrasing(part.name, part.text)...)
	}
	report(f.Limit != "" && f.Value == "" && f.Kind != Note, "a limit without the value held against it")
	report(f.Kind == Fault && f.Try == "" && f.Ask == "", "neither what to try nor whom to ask")
	report(f.Kind == Impossible && f.Try == "", "impossible, and nothing to try")
	report(f.Kind == NotChecked && !rules().noneOnFile.MatchString(f.Sentence()), `not of the form "NOT CHECKED: no … on file. Ask: …"`)
	report(f.Kind == NotChecked && f.Ask == "", "nobody to ask")
	report(f.Kind != NotChecked && strings.HasPrefix(f.Text, "NOT CHECKED"), "NOT CHECKED in a finding of kind "+string(f.Kind))
	report(f.Kind != Note && f.Kind != Assumed && f.Where.IsZero(), "no place")
	return out
}

// phrasing checks one part of a finding by itself. What stands in quotes are the reader's own words, not ours.
func phrasing(name, text string) []string {
	var out []string
	text = rules().quotation.ReplaceAllString(text, `""`)
	if word := rules().verdict.FindString(text); word != "" {
		out = append(out, "the "+name+" uses "+word+" as a verdict")
	}
	if word := rules().clear.FindString(text); word != "" {
		out = append(out, "the "+name+" uses "+word+" as a verdict")
	}
	if strings.HasSuffix(text, ".") {
		out = append(out, "the "+name+" ends in a full stop")
	}
	if strings.ContainsAny(text, "!\n\r\t") {
		out = append(out, "the "+name+" has an exclamation mark, a tab or a line break")
	}
	if text != strings.TrimSpace(text) || strings.Contains(text, "  ") {
		out = append(out, "the "+name+" has spaces too many")
	}
	return out
}
