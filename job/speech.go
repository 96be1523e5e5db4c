package job

import "trenchwright/base/wording"

// Speech is how sentences about j are worded: its words, its system.
func (j *Job) Speech() wording.Speech {
	return wording.Speech{US: j.Words == US, Imperial: j.System == Imperial}
}
