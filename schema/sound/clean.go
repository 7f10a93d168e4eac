// Package sound knows of a recording how long it plays, and takes out the tags
// that a recorder or a program wrote beside the sound. It knows nothing of
// records.
package sound

import (
	"bytes"
	"encoding/binary"
	"path"
	"strings"
)

// MaxBytes bounds a recording, some five hours of speech.
const MaxBytes = 256 << 20

// Playable says by a file's ending whether it can be published: a kind that
// browsers play and whose tags can be taken out.
func Playable(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".ogg", ".oga", ".opus", ".mp3", ".wav", ".flac":
		return true
	}
	return false
}

// Clean takes the tags out of a recording: titles, names, places, pictures. The
// sound stays as it is, bit by bit. It knows WAV, MP3, Ogg (Vorbis and Opus) and
// FLAC; of another kind, or where the file is not built as its kind is, it gives
// nothing.
func Clean(name string, data []byte) []byte {
	switch strings.ToLower(path.Ext(name)) {
	case ".wav":
		return cleanWAV(data)
	case ".mp3":
		return cleanMP3(data)
	case ".ogg", ".oga", ".opus":
		return cleanOgg(data)
	case ".flac":
		return cleanFLAC(data)
	}
	return nil
}

// cleanWAV keeps the chunks that are sound or say how it is written.
func cleanWAV(data []byte) []byte {
	const head = 12
	if len(data) < head || string(data[:4]) != "RIFF" || string(data[8:head]) != "WAVE" {
		return nil
	}
	clean := bytes.Clone(data[:head])
	for at := head; at+8 <= len(data); {
		size := int(binary.LittleEndian.Uint32(data[at+4:]))
		end := min(at+8+size+size%2, len(data))
		switch string(data[at : at+4]) {
		case "fmt ", "fact", "data":
			clean = append(clean, data[at:end]...)
		}
		if size < 0 || end <= at {
			return nil
		}
		at = end
	}
	binary.LittleEndian.PutUint32(clean[4:], uint32(len(clean)-8))
	return clean
}

// cleanMP3 takes off ID3v2 at the start (ID3v2.4, section 3.1), ID3v1 and APE
// at the end.
func cleanMP3(data []byte) []byte {
	for len(data) > 10 && string(data[:3]) == "ID3" {
		size := int(data[6]&127)<<21 | int(data[7]&127)<<14 | int(data[8]&127)<<7 | int(data[9]&127)
		data = data[min(10+size, len(data)):]
	}
	if len(data) > 128 && string(data[len(data)-128:len(data)-125]) == "TAG" {
		data = data[:len(data)-128]
	}
	if at := bytes.LastIndex(data, []byte("APETAGEX")); at >= 0 && at == len(data)-32 {
		size := int(binary.LittleEndian.Uint32(data[at+12:])) + 32
		data = data[:max(0, len(data)-size)]
	}
	start := bytes.IndexByte(data, 0xFF)
	if start < 0 || start+1 >= len(data) || data[start+1]&0xE0 != 0xE0 {
		return nil
	}
	return data[start:]
}

// cleanFLAC keeps the blocks of metadata that playing needs: stream info and the
// table by which one winds (RFC 9639, section 8).
func cleanFLAC(data []byte) []byte {
	if len(data) < 8 || string(data[:4]) != "fLaC" {
		return nil
	}
	clean := bytes.Clone(data[:4])
	last := 0
	for at := 4; ; {
		if at+4 > len(data) {
			return nil
		}
		kind, size := data[at]&127, int(data[at+1])<<16|int(data[at+2])<<8|int(data[at+3])
		end := at + 4 + size
		if end > len(data) {
			return nil
		}
		if kind == 0 || kind == 3 {
			last = len(clean)
			clean = append(clean, data[at:end]...)
			clean[last] = kind
		}
		done := data[at]&128 != 0
		at = end
		if done {
			clean[last] |= 128
			return append(clean, data[at:]...)
		}
	}
}
