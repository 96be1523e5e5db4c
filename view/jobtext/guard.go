package jobtext

import (
	"fmt"

	"github.com/goccy/go-yaml/token"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// widestGroup is how many fields one group may have. The largest group of a job has sixteen; the parser's time grows with
// the square of this.
const widestGroup = 1000

// guard walks over the tokens of a YAML text before anything is built from them. It refuses what a job does without:
// anchors, aliases, merges, tags, directives, further documents; and what would keep the parser busy for long.
type guard struct {
	faults  finding.List
	fatal   bool // nothing can be built
	content bool // something of the first document came
	ended   bool // a document end came behind it
	flow    int  // open [ and {
	levels  []level
}

// level is one open list or group in block form, by the column that its dashes or names stand in.
type level struct {
	column int
	list   bool
	fields int
}

func inspect(tokens token.Tokens) guard {
	var g guard
	for i, tk := range tokens {
		if tk.Type == token.CommentType {
			continue
		}
		var before *token.Token
		if i > 0 {
			before = tokens[i-1]
		}
		if g.document(tk); g.fatal {
			break
		}
		g.extras(tokens, i)
		if g.shape(tk, before); g.fatal {
			break
		}
	}
	return g
}

func (g *guard) say(id string, tk *token.Token, text, try string) {
	g.faults = append(g.faults, finding.Finding{
		ID: "job.yaml-" + id, Kind: finding.Fault, Text: text, Try: try,
		Where: finding.Where{Line: tk.Position.Line, Column: tk.Position.Column},
	})
}

// document refuses a second document in the same text.
func (g *guard) document(tk *token.Token) {
	switch tk.Type {
	case token.DocumentHeaderType:
		g.ended = g.content
	case token.DocumentEndType:
		g.ended = true
	default:
		if g.ended {
			g.say("documents", tk, "A second job begins here. One file holds one job.", "Put it into a file of its own.")
			g.fatal = true
		}
		g.content = g.content || tk.Type != token.DirectiveType
	}
}

// extras refuses the parts of YAML that make a text mean something else than what stands there.
func (g *guard) extras(tokens token.Tokens, i int) {
	tk := tokens[i]
	switch tk.Type {
	case token.AnchorType:
		g.say("anchor", tk, "& names a value for use elsewhere, which is not read in a job.", "Write every value where it is meant; text that begins with & needs quotes.")
	case token.AliasType:
		if i < 2 || tokens[i-2].Type != token.MergeKeyType {
			g.say("alias", tk, "* repeats a value from elsewhere, which is not read in a job.", "Write the value out; text that begins with * needs quotes.")
		}
	case token.MergeKeyType:
		g.say("merge", tk, "<< takes fields over from elsewhere, which is not read in a job.", "Write the fields out.")
	case token.TagType:
		g.say("tag", tk, fmt.Sprintf("%s sets a type by hand, which is not read in a job.", tk.Value), "Leave it out; text that begins with ! needs quotes.")
	case token.DirectiveType:
		g.say("directive", tk, "% begins a directive, which is not read in a job.", "Leave the line out; text that begins with % needs quotes.")
		g.fatal = true
	case token.MappingKeyType:
		g.say("key", tk, "? begins a name of several parts, which is not read in a job.", "Write name: value; text that begins with ? needs quotes.")
		g.fatal = true
	}
}

// shape follows how deep groups and lists are nested, and how many fields a group has.
func (g *guard) shape(tk, before *token.Token) {
	switch tk.Type {
	case token.SequenceStartType, token.MappingStartType:
		g.flow++
	case token.SequenceEndType, token.MappingEndType:
		g.flow = max(0, g.flow-1)
	case token.SequenceEntryType:
		g.open(tk, tk.Position.Column, true)
	case token.MappingValueType:
		if before != nil && g.flow == 0 {
			g.open(tk, before.Position.Column, false)
		}
	}
	if len(g.levels)+g.flow > job.MaxDepth {
		g.say("depth", tk, fmt.Sprintf("Groups and lists are nested more than %d deep here.", job.MaxDepth), "A job needs nine; look at the indentation.")
		g.fatal = true
	}
}

// open enters the list or group whose dashes or names stand in that column, or goes on with it.
func (g *guard) open(tk *token.Token, column int, list bool) {
	n := len(g.levels)
	for n > 0 && (g.levels[n-1].column > column || g.levels[n-1].column == column && g.levels[n-1].list && !list) {
		n--
	}
	g.levels = g.levels[:n]
	if n == 0 || g.levels[n-1].column < column || g.levels[n-1].list != list {
		g.levels = append(g.levels, level{column: column, list: list})
		n++
	}
	here := &g.levels[n-1]
	if here.fields++; !list && here.fields > widestGroup {
		g.say("width", tk, fmt.Sprintf("A group has more than %d fields here.", widestGroup), "No group of a job has; look at the indentation.")
		g.fatal = true
	}
}
