package job

import (
	"strings"
)

// suggestion is the word of known that written was most likely meant to be; empty if none is near.
func suggestion(written string, known []string) string {
	best, least := "", 1+(len(written)+2)/3
	if least > 4 {
		least = 4
	}
	a := []rune(strings.ToLower(written))
	for _, word := range known {
		b := []rune(strings.ToLower(word))
		if d := len(a) - len(b); len(a) > 64 || d >= least || -d >= least {
			continue
		}
		if n := slips(a, b); n < least && 2*n < len(b) { // N3 is no slip for N1
			best, least = word, n
		}
	}
	return best
}

// slips counts the letters that have to be typed, dropped, changed or swapped with their neighbour to turn a into b
// (the restricted edit distance).
func slips(a, b []rune) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j := range b {
			differ := 1
			if a[i] == b[j] {
				differ = 0
			}
			row[j+1] = min(last[j]+differ, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}

// listed is words for a sentence: the first twelve, and how many more there are.
func listed(words []string) string {
	const most = 12
	if len(words) <= most {
		return strings.Join(words, ", ")
	}
	return strings.Join(words[:most], ", ") + " and " + plural(len(words)-most, "more", "more")
}

// didYouMean is the sentence for a word that is none of known; empty where nothing is near.
func didYouMean(written string, known []string) string {
	if s := suggestion(written, known); s != "" {
		return ` Did you mean "` + s + `"?`
	}
	return ""
}

// quoted is what somebody wrote, shortened and in quotes: curly ones where it holds straight ones, as 10'-6" does.
func quoted(text string) string {
	text = shortened(text)
	if strings.Contains(text, `"`) {
		return "“" + text + "”"
	}
	return `"` + text + `"`
}

// shortened keeps a written text readable in a message: not over-long, in one line, nothing that cannot be printed.
func shortened(text string) string {
	const most = 60
	runes := []rune(text)
	if len(runes) > most {
		runes = append(runes[:most-1:most-1], '…')
	}
	for i, r := range runes {
		if unprintable(r) || r == '\n' || r == '\t' {
			runes[i] = '?'
		}
	}
	return string(runes)
}
