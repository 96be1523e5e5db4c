package jobtext

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/token"

	"trenchwright/base/finding"
)

// said is a sentence of our own for what the YAML library says.
type said struct{ part, text, try string }

// Longer parts stand before shorter ones that are in them.
var sayings = []said{
	{"found character '\t'", "A tab stands in the indentation; YAML takes spaces only.", "Put spaces in its place."},
	{"',' or ']' must be specified", "The list that was opened with [ before this is not closed.", "Look for a ] or a comma that is missing."},
	{"sequence end token ']' not found", "The list that was opened with [ is not closed.", "Look for a ] that is missing."},
	{"flow mapping end token '}'", "The group that was opened with { is not closed.", "Look for a } that is missing."},
	{"',' or '}' must be specified", "The group that was opened with { before this is not closed.", "Look for a } or a comma that is missing."},
	{"mapping value is not allowed in this context", "A colon with a space behind it begins a field, and none can begin here.", "Put text with a colon in quotes, or look at the indentation."},
	{"could not find end character of", "The quote that is opened here is never closed.", "Close it, or put the text into the other kind of quotes."},
	{"is a reserved character", "Text cannot begin with this character.", "Put the text in quotes."},
	{"found unknown escape character", `Behind \ in double quotes stands a character that means nothing there.`, `Write \\ for a backslash, or take single quotes.`},
	{"block sequence entries are not allowed", "A dash begins an item of a list, and none can begin here.", "Begin the list on the next line, or write it as [a, b]."},
	{"non-map value is specified", "This line is no field of the group around it.", "Look for a colon that is missing, and at the indentation."},
	{"value is not allowed in this context", "This does not belong to what stands before it.", "Look at the indentation, and for a colon or a dash that is missing."},
}

// longQuote is a text in quotes over several lines that ends in the line of at; nil if there is none.
func longQuote(tokens token.Tokens, at *token.Token) *token.Token {
	for _, tk := range tokens {
		quoted := tk.Type == token.DoubleQuoteType || tk.Type == token.SingleQuoteType
		if breaks := strings.Count(strings.TrimSpace(tk.Origin), "\n"); quoted && breaks > 1 && tk.Position.Line+breaks == at.Position.Line {
			return tk
		}
	}
	return nil
}

// broken is the fault for YAML that cannot be read on.
func broken(err error, tokens token.Tokens) finding.Finding {
	f := finding.Finding{ID: "job.yaml", Kind: finding.Fault}
	message := err.Error()
	var syntax *yaml.SyntaxError
	if errors.As(err, &syntax) {
		message = syntax.Message
		if tk := syntax.Token; tk != nil && tk.Position != nil {
			f.Where.Line, f.Where.Column = tk.Position.Line, tk.Position.Column
			if open := longQuote(tokens, tk); open != nil {
				f.Text = fmt.Sprintf("The quote that is opened here is closed in line %d, where the YAML then breaks.", tk.Position.Line)
				f.Try = "Look for a quote that is missing in between."
				f.Where.Line, f.Where.Column = open.Position.Line, open.Position.Column
				return f
			}
		}
	}
	for _, s := range sayings {
		if strings.Contains(message, s.part) {
			f.Text, f.Try = s.text, s.try
			return f
		}
	}
	first, _, _ := strings.Cut(message, "\n")
	f.Text = "The YAML cannot be read on from here: " + first + "."
	f.Try = "Look for quotes, brackets and indentation that do not match."
	return f
}
