package merge_test

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"pgregory.net/rapid"

	"trenchwright/job"
	"trenchwright/job/merge"
)

// flat is a job as a table of paths, things in lists by their ids; what has no ids is one thing. It knows nothing of the
// order of things. This is the slow and obvious twin's way to look at a job.
func flat(j job.Job) map[string]string {
	j.Revision = nil
	table := map[string]string{}
	flatten(table, "", job.ToTree(j))
	return table
}

func flatten(table map[string]string, path string, v job.Value) {
	field := func(name string) (job.Value, bool) {
		i := slices.IndexFunc(v.Fields, func(f job.Field) bool { return f.Name == name })
		if i < 0 {
			return job.Value{}, false
		}
		return v.Fields[i].Value, true
	}
	_, figure := field("value")
	_, assumed := field("assumed")
	switch {
	case v.Kind == job.KindMap && !figure && !assumed:
		for _, f := range v.Fields {
			flatten(table, path+"."+f.Name, f.Value)
		}
		return
	case v.Kind == job.KindList && len(v.Items) > 0 && v.Items[0].Kind == job.KindMap:
		if ids := idsOf(v); ids != nil {
			for i, item := range v.Items {
				flatten(table, path+"["+ids[i]+"]", item)
			}
			return
		}
	case v.Kind == job.KindList && len(v.Items) == 0:
		return
	}
	table[path] = plain(v)
}

func idsOf(v job.Value) []string {
	var ids []string
	for _, item := range v.Items {
		for _, f := range item.Fields {
			if f.Name == "id" {
				ids = append(ids, f.Value.Text)
			}
		}
	}
	if len(ids) != len(v.Items) {
		return nil
	}
	return ids
}

func plain(v job.Value) string {
	parts := []string{v.Text}
	for _, item := range v.Items {
		parts = append(parts, plain(item))
	}
	var fields []string
	for _, f := range v.Fields {
		fields = append(fields, f.Name+"="+plain(f.Value))
	}
	sort.Strings(fields)
	return fmt.Sprint(parts, fields)
}

// checkAgainstTwin looks at every path of the tables: what only one side changed is what that side made of it, and what
// both changed differently is under a clash and as the first side has it.
func checkAgainstTwin(t *rapid.T, base, one, other, got job.Job, clashes []merge.Clash) {
	b, a, o, g := flat(base), flat(one), flat(other), flat(got)
	paths := map[string]bool{}
	for _, table := range []map[string]string{b, a, o, g} {
		for p := range table {
			paths[p] = true
		}
	}
	for p := range paths {
		clash := underClash(p, clashes)
		switch {
		case a[p] == o[p], b[p] == o[p]:
			if g[p] != a[p] && !clash {
				t.Errorf("%s: %q, but the side that changed it has %q", p, g[p], a[p])
			}
		case b[p] == a[p]:
			if g[p] != o[p] && !clash {
				t.Errorf("%s: %q, but the side that changed it has %q", p, g[p], o[p])
			}
		case byName(p): // merged more finely than the twin sees
		case !clash:
			t.Errorf("%s: both sides changed it (%q, %q, %q), and no clash says so", p, b[p], a[p], o[p])
		case g[p] != a[p]:
			t.Errorf("%s: %q, but the first side has %q", p, g[p], a[p])
		}
	}
}

// byName tells whether p is a list of things without ids that have names or marks of their own.
func byName(p string) bool {
	for _, name := range []string{"cast_in", "no_cut", "arms", "covers", "loose_parts", "attachments", "spares", "yard", "bulking", "uses"} {
		if strings.HasSuffix(p, name) {
			return true
		}
	}
	return false
}

// underClash tells whether p is at, below or above a clash.
func underClash(p string, clashes []merge.Clash) bool {
	p = strings.TrimPrefix(p, ".")
	for _, c := range clashes {
		at := strings.TrimSuffix(c.Path, "[]")
		if strings.HasPrefix(p, at) || strings.HasPrefix(at, p) {
			return true
		}
	}
	return false
}
