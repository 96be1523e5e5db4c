package jobtext

import (
	"fmt"
	"io"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// ReadSupply reads the first supply of a job, or a text that holds one supply and nothing else. Such a text names
// documents that it does not hold; they are not missed. Faults are as in Read.
func ReadSupply(name string, r io.Reader) (job.Supply, finding.List) {
	data, err := io.ReadAll(io.LimitReader(r, job.MaxBytes+1))
	if err != nil {
		return job.Supply{}, finding.List{{
			ID: "job.unreadable", Kind: finding.Fault, Where: finding.Where{File: name},
			Text: fmt.Sprintf("It cannot be read: %v.", err),
		}}
	}
	text := newText(data)
	s, faults := supplyOf(name, text)
	return s, finish(name, text, faults)
}

func supplyOf(name string, text text) (job.Supply, finding.List) {
	if fault := text.unusable(); fault != nil {
		return job.Supply{}, finding.List{*fault}
	}
	tree, faults := treeOf(name, text.string)
	if faults.Any(finding.Fault) {
		return job.Supply{}, faults
	}
	const within = "supplies[0]"
	alone := !has(tree, "supplies")
	if alone {
		tree = asJob(tree)
	}
	j, found := job.FromTree(tree)
	for _, f := range found {
		path, inside := strings.CutPrefix(f.Where.Path, within)
		switch {
		case !alone:
		case !inside:
			continue // about what was put around it
		default:
			f.Where.Path = strings.TrimPrefix(path, ".")
		}
		faults = append(faults, f)
	}
	if len(j.Supplies) == 0 {
		return job.Supply{}, faults
	}
	return j.Supplies[0], faults
}

func treeOf(name, text string) (job.Value, finding.List) {
	if isJSON(name, text) {
		tree, fault := job.TreeFromJSON([]byte(text))
		if fault != nil {
			return tree, finding.List{*fault}
		}
		return tree, nil
	}
	tree, _, faults := treeFromYAML(text)
	return tree, faults
}

func has(v job.Value, name string) bool {
	for _, f := range v.Fields {
		if f.Name == name {
			return true
		}
	}
	return false
}

// asJob puts around a supply what makes a job of it: its documents by their names, and the shortest run there is.
func asJob(supply job.Value) job.Value {
	text := func(s string) job.Value { return job.Value{Kind: job.KindText, Text: s} }
	group := func(fields ...job.Field) job.Value { return job.Value{Kind: job.KindMap, Fields: fields} }
	list := func(items []job.Value) job.Value { return job.Value{Kind: job.KindList, Items: items} }
	var documents []job.Value
	for _, id := range documentsOf(supply) {
		documents = append(documents, group(job.Field{Name: "id", Value: text(id)}, job.Field{Name: "title", Value: text(id)}))
	}
	fields := []job.Field{
		{Name: "format", Value: job.Value{Kind: job.KindNumber, Text: fmt.Sprint(job.Format)}},
		{Name: "name", Value: text("supply")},
		{Name: "supplies", Value: list([]job.Value{supply})},
		{Name: "route", Value: group(job.Field{Name: "walk", Value: text("1 m")})},
	}
	if len(documents) > 0 {
		fields = append(fields, job.Field{Name: "documents", Value: list(documents)})
	}
	return group(fields...)
}

// documentsOf is every document that is named anywhere in v, in the order in which they are first named.
func documentsOf(v job.Value) []string {
	var out []string
	seen := map[string]bool{}
	var look func(v job.Value)
	look = func(v job.Value) {
		for _, f := range v.Fields {
			if f.Name == "from" && f.Value.Kind == job.KindText && !seen[f.Value.Text] {
				seen[f.Value.Text] = true
				out = append(out, f.Value.Text)
			}
			look(f.Value)
		}
		for _, item := range v.Items {
			look(item)
		}
	}
	look(v)
	return out
}
