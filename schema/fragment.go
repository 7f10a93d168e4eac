package schema

import (
	"fmt"
	"image"
	"regexp"
	"strconv"
	"strings"
	"time"

	"yearmark/schema/english"
)

// Region is a part of a picture as the W3C recommendation Media Fragments URI
// 1.0 writes it (section 4.2.2): "xywh=percent:8,41,46,12" or "xywh=pixel:…",
// from the upper left corner. Pixels are those of the picture held upright.
type Region struct {
	Percent             bool // else pixels
	X, Y, Width, Height int
	Pos                 Pos

	written string
}

// Written gives the region as it stands in the record; it is empty of none.
func (r Region) Written() string { return r.written }

// IsZero says that no region was written.
func (r Region) IsZero() bool { return r.Pos.IsZero() }

// String gives the region as it is written; it is empty of none.
func (r Region) String() string {
	if r.Width == 0 {
		return ""
	}
	unit := "pixel"
	if r.Percent {
		unit = "percent"
	}
	return fmt.Sprintf("xywh=%s:%d,%d,%d,%d", unit, r.X, r.Y, r.Width, r.Height)
}

// Fragment writes a rectangle of pixels as Media Fragments do.
func Fragment(r image.Rectangle) string {
	return fmt.Sprintf("xywh=%d,%d,%d,%d", r.Min.X, r.Min.Y, r.Dx(), r.Dy())
}

// Within gives the region in whole pixels of an upright picture of that size; ok
// is false where it does not lie within the picture.
func (r Region) Within(width, height int) (pixels image.Rectangle, ok bool) {
	pixels = image.Rect(r.X, r.Y, r.X+r.Width, r.Y+r.Height)
	if r.Percent {
		pixels = image.Rect(r.X*width/100, r.Y*height/100, (r.X+r.Width)*width/100, (r.Y+r.Height)*height/100)
	}
	return pixels, !pixels.Empty() && pixels.In(image.Rect(0, 0, width, height))
}

var regionForm = regexp.MustCompile(`^xywh=(?:(pixel|percent):)?([0-9]{1,6}),([0-9]{1,6}),([0-9]{1,6}),([0-9]{1,6})$`)

// ParseRegion reads a region. Whether pixels lie within the picture is not
// known to it. The error is a *Malformed.
func ParseRegion(text string) (Region, error) {
	refuse := func(message, help string) (Region, error) {
		return Region{}, &Malformed{CheckMalformedPlace, text, 0, message, help, ""}
	}
	m := regionForm.FindStringSubmatch(text)
	if m == nil {
		return refuse(fmt.Sprintf("%q is no region of a picture", english.Clip(text, 60)), "Write left, top, width and height in whole numbers: xywh=percent:8,41,46,12, or xywh=pixel:160,820,920,240.")
	}
	r := Region{Percent: m[1] == "percent", written: text}
	for i, to := range []*int{&r.X, &r.Y, &r.Width, &r.Height} {
		*to, _ = strconv.Atoi(m[2+i])
	}
	switch {
	case r.Width == 0 || r.Height == 0:
		return refuse(fmt.Sprintf("the region %q has no width or no height", text), "Write left, top, width and height, in this order: the last two must be above 0.")
	case r.Percent && (r.X+r.Width > 100 || r.Y+r.Height > 100):
		return refuse(fmt.Sprintf("the region %q ends beyond 100 per cent", text), "The numbers are left, top, width and height, not the corners: left and width together are at most 100, and so are top and height.")
	}
	return r, nil
}

// Fragment writes a time as Media Fragments do, in seconds: "t=754", "t=754,760".
func (s TimeSpan) Fragment() string {
	text := "t=" + strconv.FormatFloat(s.Start.Seconds(), 'f', -1, 64)
	if s.End > s.Start {
		text += "," + strconv.FormatFloat(s.End.Seconds(), 'f', -1, 64)
	}
	return text
}

// timesForm is what is meant for a time: clock figures, or the fragment t= .
var timesForm = regexp.MustCompile(`^(?:t=(.*)|([0-9]+:[0-9:.]*)(?:\s*(?:-|–|to)\s*([0-9][0-9:.]*))?)$`)

// parseTimes reads a time or a stretch of one, as people write it (12:34,
// 1:02:03, 12:34-12:50) or as Media Fragments do (t=754, t=npt:12:34,13:00;
// section 4.2.1, normal play time). isTime says that one was meant, fault why
// it is none.
func parseTimes(text string) (span TimeSpan, fault string, isTime bool) {
	m := timesForm.FindStringSubmatch(text)
	if m == nil {
		return span, "", false
	}
	from, to, isRange := m[2], m[3], m[3] != ""
	if strings.HasPrefix(text, "t=") {
		from, to, isRange = strings.Cut(strings.TrimPrefix(m[1], "npt:"), ",")
		if from == "" && isRange {
			from = "0"
		}
	}
	if span.Start, fault = parseClock(from); fault != "" {
		return span, fault, true
	}
	span.End = span.Start
	if !isRange {
		return span, "", true
	}
	if span.End, fault = parseClock(to); fault == "" && span.End <= span.Start {
		fault = "it ends before it begins"
	}
	return span, fault, true
}

var (
	timeWords = regexp.MustCompile(`^(?:([0-9]{1,3}) ?(?:h|hrs?\.?|hours?)(?:[ ,]*and)?[ ,]*)?` +
		`(?:(?:minutes?|mins?\.?) ?([0-9]{1,3})|([0-9]{1,3}) ?(?:m|mins?\.?|minutes?|[’'′]))?(?:[ ,]*and)?[ ,]*` +
		`(?:(?:seconds?|secs?\.?) ?([0-9]{1,2})|([0-9]{1,2}) ?(?:s|secs?\.?|seconds?|["”″]|’’|''))?(?: in)?$`)
	timeFigures = regexp.MustCompile(`^([0-9]{1,3})[.:]([0-9]{2})(?: ?(?:mins?\.?|minutes?)| in)?$`)
)

// TimeInWords reads a time of a recording as people say it or write it otherwise
// than places do, "minute 3", "3 min 20 s" or 3.20, and gives it as they do,
// 3:20; ok is false of anything else.
func TimeInWords(text string) (clock string, ok bool) {
	plain := strings.ToLower(strings.TrimSpace(text))
	if _, _, isTime := parseTimes(plain); isTime || !strings.ContainsAny(plain, "0123456789") {
		return "", false
	}
	for _, lead := range []string{"at ", "about ", "from "} {
		plain = strings.TrimPrefix(plain, lead)
	}
	var hours, minutes, seconds int
	if m := timeFigures.FindStringSubmatch(plain); m != nil {
		minutes, _ = strconv.Atoi(m[1])
		seconds, _ = strconv.Atoi(m[2])
	} else if m := timeWords.FindStringSubmatch(plain); m != nil {
		hours, _ = strconv.Atoi(m[1])
		minutes, _ = strconv.Atoi(m[2] + m[3])
		seconds, _ = strconv.Atoi(m[4] + m[5])
	} else {
		return "", false
	}
	if seconds > 59 || hours > 0 && minutes > 59 {
		return "", false
	}
	if hours += minutes / 60; hours > 0 {
		return fmt.Sprintf("%d:%02d:%02d", hours, minutes%60, seconds), true
	}
	return fmt.Sprintf("%d:%02d", minutes, seconds), true
}

// maxRecording bounds the hours of a recording.
const maxRecording = 1000

// parseClock reads 754, 12:34 or 1:02:03, with decimals of a second after a full stop.
func parseClock(text string) (time.Duration, string) {
	whole, fraction, _ := strings.Cut(text, ".")
	parts := strings.Split(whole, ":")
	if len(parts) > 3 || len(fraction) > 9 || strings.Trim(fraction, "0123456789") != "" {
		return 0, "it is not hours, minutes and seconds"
	}
	var seconds int64
	for i, part := range parts {
		n, err := strconv.ParseUint(part, 10, 32)
		switch {
		case err != nil || i > 0 && len(part) != 2:
			return 0, "it is not hours, minutes and seconds"
		case i > 0 && n > 59 || i == 0 && len(parts) == 3 && n >= maxRecording:
			return 0, "minutes and seconds go from 00 to 59"
		}
		seconds = seconds*60 + int64(n)
	}
	if seconds >= maxRecording*3600 {
		return 0, "no recording is so long"
	}
	nanos, _ := strconv.ParseInt((fraction + "000000000")[:9], 10, 64)
	return time.Duration(seconds)*time.Second + time.Duration(nanos), ""
}
