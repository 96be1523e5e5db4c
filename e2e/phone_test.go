package e2e

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"
	"time"
)

// figure types a figure into a field of the open record, by the keys of its keypad.
func (p *page) figure(label, keys string) {
	p.t.Helper()
	p.Until(wait, `const f = [...document.querySelectorAll(".recorder .figure-button")].find(b => b.querySelector("span").innerText === arguments[0]);
		if (f?.ariaExpanded !== "true" && f?.getAttribute("aria-expanded") !== "true") f?.click(); return document.querySelector(".recorder .keypad")?.getAttribute("aria-label") === arguments[0]`, label)
	for _, k := range keys {
		p.Until(wait, "const k = [...document.querySelectorAll('.recorder .keypad .keys button')].find(b => b.innerText === arguments[0]); k?.click(); return k", string(k))
	}
}

// gap records the gap of the first joint, by somebody who says what they are there as.
func (p *page) gap(figure, who, as string) {
	p.t.Helper()
	p.press("Gap")
	p.figure("left wall", figure)
	p.figure("right wall", figure)
	p.Until(wait, "const sure = document.querySelector('.recorder .sure'); if (!sure) document.querySelector('.recorder .main:not(:disabled)')?.click(); return sure")
	p.Fill(".sure .who input", who)
	p.Run(nil, "const s = document.querySelector('.sure .as'); if (arguments[0]) { s.value = arguments[0]; s.dispatchEvent(new Event('change', { bubbles: true })); }", as)
	p.press("yes, keep it")
	p.Says("Kept on this phone. ")
	p.press("good")
}

// A gap is measured by a foreman, then on the same phone by the inspector, then by the foreman again: each says once what they are
// there as, and the office has the inspector's reading beside those of who builds.
func TestThePhoneSaysWhoIsThereAsWhat(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, _ := begun(t, engine, "/jobs/hand-troughs/set", 360, 640)
		p.gap("9", "Ada", "foreman")
		p.gap("13", "Cy", "inspector")
		p.gap("9", "Ada", "")
		p.Size(1440, 1000)
		p.Until(wait, "const d = document.querySelector('.sitenow'); if (d) d.open = true; return d?.innerText.includes('gap, left: 9 mm, inspector 13 mm')")
		p.faultless()
	})
}

// senses puts stubs in place of what a page has of a phone, which write down what was asked of them: the lock of its screen, vibration,
// sound, the microphone.
const senses = `globalThis.felt = { locks: 0, held: 0, shakes: 0, tones: 0 };
const put = (of, name, value) => Object.defineProperty(of, name, { value, configurable: true, writable: true });
put(navigator, "wakeLock", { request: async (what) => { felt.locks++; felt.held++; return { release: async () => void felt.held-- }; } });
put(navigator, "vibrate", () => { felt.shakes++; return true; });
put(navigator, "userActivation", { hasBeenActive: true });
put(globalThis, "AudioContext", class {
	currentTime = 0; destination = {};
	createOscillator() { return { frequency: {}, connect: (to) => to, start() { felt.tones++; }, stop() {} }; }
	createGain() { return { gain: {}, connect: (to) => to }; }
	async close() {}
});
put(MediaDevices.prototype, "getUserMedia", async () => ({ getTracks: () => [{ stop() {} }] }));
put(globalThis, "MediaRecorder", class {
	state = "inactive"; mimeType = "audio/webm";
	start() { this.state = "recording"; }
	stop() { this.state = "inactive"; this.ondataavailable({ data: new Blob(["what was spoken"]) }); this.onstop(); }
});`

// The screen stays lit while pegs, levels and units are set out, and no longer; a photo and a voice note go with the record of a place;
// that it is kept is heard and felt; and where the phone has no room left that is said, the record stays on the screen, and is kept
// once there is room.
func TestAPhoneIsHeardAndFelt(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/hand-troughs/order", 360, 640)
		p.Run(nil, senses)
		for _, at := range []struct {
			stage string
			held  int
		}{{"Dig", 1}, {"Set", 1}, {"Cover", 0}, {"Set", 1}} {
			p.stageAt(at.stage)
			p.Until(wait, "return felt.held === arguments[0]", at.held)
		}
		var locks int
		p.Run(&locks, "return felt.locks")
		if locks < 2 {
			t.Errorf("%s: the screen was held lit %d times", engine, locks)
		}

		const seen = "what was seen"
		photo := written(t, "seen.jpg", seen)
		p.press("Note")
		p.Type(".recorder input[aria-label=photo]", photo)
		p.Says("1 photo or voice note is with it")
		p.press("voice note")
		p.press("stop the voice note")
		p.Says("2 photos or voice notes are with it")
		p.Run(nil, full)
		p.Until(wait, "const sure = document.querySelector('.recorder .sure'); if (!sure) document.querySelector('.recorder .main:not(:disabled)')?.click(); return sure")
		p.press("yes, keep it")
		p.Until(wait, "return document.querySelector('.sure .fault')?.innerText.includes('no room left')")
		p.Until(wait, "return document.querySelector('.sure .words').innerText.includes('2 photos or voice notes') && felt.shakes + felt.tones === 0")
		p.Run(nil, "roomAgain()")
		p.press("yes, keep it")
		p.Says("Kept on this phone. ")
		p.Until(wait, "return felt.shakes === 1 && felt.tones === 1")

		var lines string
		for end := time.Now().Add(wait); strings.Count(lines, `"kind":"note"`) != 1; time.Sleep(100 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("%s: the server has %s", engine, lines)
			}
			_, said := asked(t, s.address+"/api/jobs/hand-troughs/records")
			lines = string(said)
		}
		photographed, spoken := sha256.Sum256([]byte(seen)), sha256.Sum256([]byte("what was spoken"))
		for _, want := range []string{`"from":"A-001"`, hex.EncodeToString(photographed[:]), hex.EncodeToString(spoken[:])} {
			if !strings.Contains(lines, want) {
				t.Errorf("%s: the record says no %s: %s", engine, want, lines)
			}
		}
		p.faultless()
	})
}
