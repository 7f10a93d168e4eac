package sound

import (
	"bytes"
	"errors"
	"os"
	"testing"
	"time"
)

// The tones in testdata were made for these tests: 10,000 samples at 8,000 a
// second, encoded by oggenc 1.4.2, opusenc 0.2 and LAME 3.100, whose own tools
// (ogginfo, opusinfo, lame --decode) give their length as 1.250 s. Each carries
// the title or artist "Secret" in its tags.
var tones = []string{"tone.wav", "tone.mp3", "tone.ogg", "tone.opus"}

func tone(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestLength: an MP3 counts whole frames and what the encoder put before the sound.
func TestLength(t *testing.T) {
	for _, name := range tones {
		length, err := Length(name, tone(t, name))
		most := 1250 * time.Millisecond
		if name == "tone.mp3" {
			most += 4 * 576 * time.Second / 22050 // frames of 576 samples, MPEG-2 layer III
		}
		if err != nil || length < 1250*time.Millisecond-time.Millisecond || length > most+time.Millisecond {
			t.Errorf("%s plays %v, %v", name, length, err)
		}
	}
	if _, err := Length("old.mp3", tone(t, "old.mp3")); !errors.Is(err, ErrUnknownLength) {
		t.Error("MPEG-2.5:", err)
	}
	if _, err := Length("a.flac", nil); !errors.Is(err, ErrUnknownLength) {
		t.Error(err)
	}
}

// TestClean: the tags are gone and the sound is as long as it was; what is clean
// stays as it is.
func TestClean(t *testing.T) {
	for _, name := range tones {
		data := tone(t, name)
		if !bytes.Contains(data, []byte("Secret")) {
			t.Fatalf("%s has no tag", name)
		}
		clean := Clean(name, data)
		if len(clean) < len(data)/2 || bytes.Contains(clean, []byte("Secret")) || bytes.Contains(clean, []byte("LAME3")) && name != "tone.mp3" {
			t.Errorf("%s: %d bytes of %d are left, with a tag: %v", name, len(clean), len(data), bytes.Contains(clean, []byte("Secret")))
		}
		was, _ := Length(name, data)
		if is, err := Length(name, clean); err != nil || is != was {
			t.Errorf("%s plays %v once clean, %v before; %v", name, is, was, err)
		}
		if !bytes.Equal(Clean(name, clean), clean) {
			t.Errorf("%s cleaned twice is another", name)
		}
	}
	flac := append([]byte("fLaC\x00\x00\x00\x22"), make([]byte, 34)...)
	flac = append(flac, "\x04\x00\x00\x06Secret\x81\x00\x00\x02\x00\x00sound"...)
	if clean := Clean("a.flac", flac); bytes.Contains(clean, []byte("Secret")) || !bytes.HasSuffix(clean, []byte("sound")) || clean[4] != 128 {
		t.Errorf("FLAC becomes %q", clean)
	}
	for _, name := range []string{"a.wav", "a.mp3", "a.ogg", "a.flac", "a.m4a"} {
		if clean := Clean(name, []byte("no sound")); clean != nil {
			t.Errorf("%s: %q is taken", name, clean)
		}
	}
}

// TestBrokenRecordings cuts and changes recordings everywhere: nothing panics,
// and a changed page of Ogg keeps no tag.
func TestBrokenRecordings(t *testing.T) {
	for _, name := range tones {
		data := tone(t, name)
		for at := 0; at < len(data); at += 1 + at/40 {
			_, _ = Length(name, data[:at])
			Clean(name, data[:at])
			changed := bytes.Clone(data)
			changed[at] ^= 0xFF
			_, _ = Length(name, changed)
			Clean(name, changed)
		}
	}
}

func FuzzClean(f *testing.F) {
	for _, name := range tones {
		data, err := os.ReadFile("testdata/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(name, data[:min(len(data), 2000)])
	}
	f.Fuzz(func(_ *testing.T, name string, data []byte) {
		_, _ = Length(name, data)
		Clean(name, data)
	})
}
