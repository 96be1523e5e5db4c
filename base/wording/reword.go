package wording

import "regexp"

// reworded are the words that a sentence of a package without a speech of its own may have.
var reworded = []Word{Unit, Units, Mitre, Mitres, Mitred, Chainage, Chainages, Centre, Metre, Metres, Nought, Bed}

var aWord = regexp.MustCompile(`[a-z]+`)

// Reworded is a text of UK words in the words of this speech, whole words alone: "unit", and not what is in "community".
func (s Speech) Reworded(text string) string {
	if !s.US {
		return text
	}
	return aWord.ReplaceAllStringFunc(text, func(word string) string {
		for _, w := range reworded {
			if spellings[w].uk == word {
				return spellings[w].us
			}
		}
		return word
	})
}
