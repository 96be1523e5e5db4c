package screen

import "strings"

// differFindings is what the program says now and did not, said and does not, or says with another figure. Notes and assumptions ask
// nothing of anybody and are counted by themselves.
func (d *draft) differFindings(before *draft, out *Difference) {
	pairs, fresh, gone := matched(d.findings(), before.findings())
	for _, p := range pairs {
		if p.Now.Text == p.Was.Text && p.Now.Limit == p.Was.Limit && p.Now.Value == p.Was.Value {
			continue // where it is found is told by what moved there
		}
		c := changeOf(&p.Now, "moved")
		c.About, c.Was, c.Now = p.Now.Text, held(&p.Was), held(&p.Now)
		if p.refigured() {
			c.Kind = "changed"
		}
		if c.Was == c.Now {
			c.About, c.Was, c.Now = "", p.Was.Text, p.Now.Text
		}
		out.Places = append(out.Places, c)
	}
	for _, f := range fresh {
		c := changeOf(&f, "new")
		c.Now = joined("; ", f.Text, held(&f))
		out.Places = append(out.Places, c)
	}
	if d.broken() {
		return
	}
	for _, f := range gone {
		c := changeOf(&f, "gone")
		c.Key, c.Leg, c.Was = "", -1, joined("; ", f.Text, held(&f))
		out.Places = append(out.Places, c)
	}
}

// changeOf is the place of a finding in a difference.
func changeOf(f *Finding, kind string) Change {
	c := Change{Kind: kind, Of: "finding", Key: "finding/" + f.Name, Name: f.Name, Leg: f.Leg, Where: f.Where}
	if gravity[f.Kind] == 0 {
		c.Of = "note"
	}
	if f.At != nil {
		c.From, c.To = *f.At, *f.At
	}
	return c
}

// held is the value of a finding with the limit that it is held against; empty: it has none.
func held(f *Finding) string {
	if f.Limit == "" {
		return f.Value
	}
	return f.Value + ", limit: " + f.Limit
}

// Refigured is a finding that stands as before, with another figure.
type Refigured struct {
	Was Finding `json:"was"`
	Now Finding `json:"now"`
}

// refigured tells whether more than a place along the run reads otherwise: the value or the limit, or what has neither, or the words.
func (p *Refigured) refigured() bool {
	now, was := &p.Now, &p.Was
	if now.Value != was.Value || now.Limit != was.Limit {
		return true
	}
	if now.Value != "" {
		return unfigured(now.Text) != unfigured(was.Text)
	}
	return placeless(now.Text) != placeless(was.Text)
}

// placeless is a text without the figures of chainages in it.
func placeless(text string) string {
	for _, word := range [...]string{"chainage ", "station "} {
		parts := strings.Split(text, word)
		for i := range parts[1:] {
			parts[i+1] = strings.TrimLeft(parts[i+1], "0123456789.+")
		}
		text = strings.Join(parts, word)
	}
	return text
}

// matched pairs what is found now with what was found before: first what reads the same, then what says the same of other figures,
// then what is the same rule of the same thing. What is left of either is new, or gone.
func matched(now, was []Finding) (pairs []Refigured, fresh, gone []Finding) {
	for _, like := range [...]func(*Finding) string{asSaid, saidOtherwise, ofTheSame} {
		now, was = paired(now, was, like, &pairs)
	}
	return pairs, now, was
}

// paired takes away what both sides have, one for one.
func paired(now, was []Finding, like func(*Finding) string, pairs *[]Refigured) (fresh, gone []Finding) {
	have := map[string][]int{}
	for i := range was {
		k := like(&was[i])
		have[k] = append(have[k], i)
	}
	taken := make([]bool, len(was))
	for i := range now {
		k := like(&now[i])
		if len(have[k]) == 0 {
			fresh = append(fresh, now[i])
			continue
		}
		*pairs = append(*pairs, Refigured{Was: was[have[k][0]], Now: now[i]})
		taken[have[k][0]], have[k] = true, have[k][1:]
	}
	for i := range was {
		if !taken[i] {
			gone = append(gone, was[i])
		}
	}
	return fresh, gone
}
