package jobtext

import (
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// treeFromYAML reads one YAML document. usable is false where nothing could be built of it.
func treeFromYAML(text string) (tree job.Value, usable bool, faults finding.List) {
	tokens := lexer.Tokenize(text)
	g := inspect(tokens)
	faults = g.faults
	if g.fatal {
		return job.Value{}, false, faults
	}
	// Fields that are written twice are the decoder's to find, all of them.
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return job.Value{}, false, append(faults, broken(err, tokens))
	}
	for _, doc := range file.Docs {
		if doc.Body != nil && doc.Body.Type() != ast.DirectiveType {
			return value(doc.Body), true, faults
		}
	}
	return job.Value{}, false, append(faults, finding.Finding{
		ID: "job.empty", Kind: finding.Fault, Text: "The job is empty.", Try: "Write at least format, name, supplies and route.",
	})
}

// value is a node as a tree.
func value(node ast.Node) job.Value {
	if node == nil {
		return job.Value{}
	}
	v := job.Value{}
	if tk := node.GetToken(); tk != nil && tk.Position != nil {
		v.Line, v.Column = tk.Position.Line, tk.Position.Column
	}
	switch n := node.(type) {
	case *ast.MappingNode:
		return group(v, n.IsFlowStyle, n.Values)
	case *ast.MappingValueNode:
		return group(v, false, []*ast.MappingValueNode{n})
	case *ast.SequenceNode:
		v.Kind = job.KindList
		for _, item := range n.Values {
			v.Items = append(v.Items, value(item))
		}
	case *ast.StringNode:
		v.Kind, v.Text = job.KindText, n.Value
		if exponent(n) {
			v.Kind = job.KindNumber
		}
	case *ast.LiteralNode:
		v.Kind, v.Text = job.KindText, n.Value.Value
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode:
		v.Kind, v.Text = job.KindNumber, node.GetToken().Value
	case *ast.BoolNode:
		v.Kind, v.Text = job.KindBool, fmt.Sprint(n.Value)
	case *ast.NullNode:
	case *ast.AnchorNode: // refused already; its value is read all the same, for further faults
		return value(n.Value)
	case *ast.TagNode:
		return value(n.Value)
	default:
		v.Kind = job.KindUnusable
	}
	return v
}

// exponent tells whether n is written as a number like 1e3, which the library takes for text.
func exponent(n *ast.StringNode) bool {
	if n.GetToken().Type != token.StringType || !strings.ContainsAny(n.Value, "eE") || strings.Trim(n.Value, "0123456789.eE+-") != "" {
		return false
	}
	mantissa, power, _ := strings.Cut(strings.ToLower(n.Value), "e")
	return strings.ContainsAny(mantissa, "0123456789") && strings.ContainsAny(power, "0123456789") && !strings.Contains(power, "e")
}

// group is a map; in block form it stands where its first field does.
func group(v job.Value, flow bool, fields []*ast.MappingValueNode) job.Value {
	v.Kind = job.KindMap
	for i, f := range fields {
		key := f.Key.GetToken()
		one := job.Field{Name: key.Value, Value: value(f.Value), Line: key.Position.Line, Column: key.Position.Column}
		if i == 0 && !flow {
			v.Line, v.Column = one.Line, one.Column
		}
		if !f.Key.IsMergeKey() {
			v.Fields = append(v.Fields, one)
		}
	}
	return v
}
