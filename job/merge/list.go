package merge

import (
	"slices"

	"trenchwright/job"
)

// keyNames are the fields that things in lists are told apart by, the first that every thing of the list has.
var keyNames = [...]string{"id", "name", "mark", "what", "of"}

// keyField is the field that tells the things of a list apart: each has it, and no two the same. Empty: none does.
func keyField(list *job.Value) string { return sharedKey(list) }

// sharedKey is a field that tells the things apart in each of the lists. Lists without things ask for nothing; where all
// are empty there is no key.
func sharedKey(lists ...*job.Value) string {
	for _, name := range keyNames {
		things := 0
		for _, list := range lists {
			if list == nil {
				continue
			}
			if !keyedBy(list, name) {
				things = 0
				break
			}
			things += len(list.Items)
		}
		if things > 0 {
			return name
		}
	}
	return ""
}

func keyedBy(list *job.Value, name string) bool {
	seen := make(map[string]bool, len(list.Items))
	for i := range list.Items {
		key := get(&list.Items[i], name)
		if !isList(list) || key == nil || key.Kind != job.KindText || key.Text == "" || seen[key.Text] {
			return false
		}
		seen[key.Text] = true
	}
	return true
}

// isGroup tells whether v has fields of its own to be merged. A figure with its pedigree is one thing: its document belongs
// to its value.
func isGroup(v *job.Value) bool {
	return v != nil && v.Kind == job.KindMap && get(v, "value") == nil && get(v, "assumed") == nil
}

func isList(v *job.Value) bool { return v != nil && v.Kind == job.KindList }

// keys are the keys of a list's things in their order, and the things by key.
func keys(list *job.Value, name string) ([]string, map[string]*job.Value) {
	if list == nil {
		return nil, nil
	}
	order := make([]string, len(list.Items))
	things := make(map[string]*job.Value, len(list.Items))
	for i := range list.Items {
		order[i] = get(&list.Items[i], name).Text
		things[order[i]] = &list.Items[i]
	}
	return order, things
}

// list merges thing by thing.
func (m *merger) list(p path, key string, base, one, other *job.Value) *job.Value {
	baseOrder, baseThings := keys(base, key)
	oneOrder, oneThings := keys(one, key)
	otherOrder, otherThings := keys(other, key)
	kept := map[string]*job.Value{}
	for _, k := range oneOrder {
		kept[k] = m.value(p.item(k), baseThings[k], oneThings[k], otherThings[k])
	}
	for _, k := range otherOrder {
		if oneThings[k] == nil {
			kept[k] = m.value(p.item(k), baseThings[k], nil, otherThings[k])
		}
	}
	standing := func(order []string) []string {
		return slices.DeleteFunc(slices.Clone(order), func(k string) bool { return kept[k] == nil })
	}
	merged := job.Value{Kind: job.KindList}
	for _, k := range m.order(p, standing(baseOrder), standing(oneOrder), standing(otherOrder)) {
		merged.Items = append(merged.Items, *kept[k])
	}
	return &merged
}
