package sound

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
	"time"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/mp3"
	"github.com/gopxl/beep/v2/wav"
)

// ErrUnknownLength is for kinds of recording whose length is not looked for.
var ErrUnknownLength = errors.New("is of a kind whose length is not known")

// Length is how long a recording plays: of WAV, MP3 and Ogg (Vorbis and Opus).
// The error is ErrUnknownLength for others, and says of a file that cannot be
// read why.
func Length(name string, data []byte) (length time.Duration, err error) {
	defer func() {
		if recover() != nil { // a decoder met with what it did not expect
			length, err = 0, errors.New("is damaged")
		}
	}()
	file := opened{bytes.NewReader(data)}
	var stream beep.StreamSeekCloser
	var format beep.Format
	switch ext := strings.ToLower(path.Ext(name)); {
	case ext == ".wav":
		stream, format, err = wav.Decode(file)
	case ext == ".mp3" && isMPEG25(cleanMP3(data)):
		return 0, ErrUnknownLength
	case ext == ".mp3":
		stream, format, err = mp3.Decode(file)
	case ext == ".ogg" || ext == ".oga" || ext == ".opus":
		return oggLength(data)
	default:
		return 0, ErrUnknownLength
	}
	if err != nil || format.SampleRate <= 0 || stream.Len() <= 0 {
		return 0, fmt.Errorf("cannot be read as %s", strings.ToUpper(strings.TrimPrefix(path.Ext(name), ".")))
	}
	defer stream.Close()
	return format.SampleRate.D(stream.Len()), nil
}

// isMPEG25 says that frames are of MPEG-2.5, an extension for 8 to 12 kHz that no
// standard has and the decoder does not know.
func isMPEG25(data []byte) bool { return len(data) > 1 && data[1]>>3&3 == 0 }

// opened is a file that is in memory.
type opened struct{ io.ReadSeeker }

func (opened) Close() error { return nil }

// oggLength takes the granule position of the last page (RFC 3533, section 6):
// samples at the rate of Vorbis (Vorbis I, section 4.2.2), or at 48,000 a second
// and less those to skip at the start of Opus (RFC 7845, section 4).
func oggLength(data []byte) (time.Duration, error) {
	head := data[:min(len(data), 128)]
	last := bytes.LastIndex(data, []byte("OggS"))
	var rate, skip uint64
	if at := bytes.Index(head, []byte("\x01vorbis")); at >= 0 && at+16 <= len(head) {
		rate = uint64(binary.LittleEndian.Uint32(head[at+12:]))
	} else if at := bytes.Index(head, []byte("OpusHead")); at >= 0 && at+12 <= len(head) {
		rate, skip = 48000, uint64(binary.LittleEndian.Uint16(head[at+10:]))
	}
	if rate == 0 || last < 0 || last+14 > len(data) {
		return 0, errors.New("is neither Vorbis nor Opus")
	}
	samples := binary.LittleEndian.Uint64(data[last+6:])
	const most = 1 << 34 // a hundred hours
	if samples <= skip || samples > most {
		return 0, errors.New("is damaged at its end")
	}
	return time.Duration((samples - skip) * uint64(time.Second/1000) / rate * 1000), nil
}
