package planner

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// View is the system and the words that a plan's sentences are in.
type View struct {
	System job.System
	Words  job.Words
}

func viewOf(j job.Job) View { return View{j.System, j.Words} }

// speech is how the plan's sentences are worded.
func (b *build) speech() wording.Speech { return b.job.Speech() }

// tell is a sentence in the job's words and lengths: see wording.Speech.Say.
func (b *build) tell(form string, args ...any) string { return b.speech().Say(form, args...) }

// say is a length for a sentence.
func (b *build) say(l measure.Length) string { return b.speech().Length(l) }

func (b *build) imperial() bool { return b.speech().Imperial }

// show is how solvers write lengths in their sentences.
func (b *build) show() *measure.Format {
	if b.imperial() {
		return &measure.Format{System: measure.Imperial}
	}
	return &measure.Format{Places: 1}
}

// Speech is how a plan's views word their sentences.
func (h JobHead) Speech() wording.Speech {
	return wording.Speech{US: h.Words == string(job.US), Imperial: h.System == string(job.Imperial)}
}
