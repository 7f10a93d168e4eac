package checks

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/jpeg" // photographs are JPEG or PNG
	_ "image/png"
	"math"

	"golang.org/x/sync/semaphore"
)

// MaxPhotoMemory is how many bytes the pixels of all photographs that are open
// at once may take while they are decoded.
const MaxPhotoMemory = 512 << 20

var photoMemory = semaphore.NewWeighted(MaxPhotoMemory)

// PhotoHead is what the head of a photograph says of it.
type PhotoHead struct {
	Kind          string // "jpeg" or "png"
	Width, Height int    // before it is turned
	Memory        int64  // bytes that Go's decoder takes for it at most
}

// TooLargeError says that a photograph has more pixels than can be opened.
type TooLargeError struct{ PhotoHead }

func (e *TooLargeError) Error() string {
	if int64(e.Width)*int64(e.Height) > MaxPixels {
		return fmt.Sprintf("has %d by %d pixels, more than a hundred million", e.Width, e.Height)
	}
	return fmt.Sprintf("has %d by %d pixels that take %d MB to open, more than %d MB", e.Width, e.Height, e.Memory>>20, MaxPhotoMemory>>20)
}

// Remedy says to which size the photograph would have to be scaled.
func (e *TooLargeError) Remedy() string {
	by := math.Sqrt(min(MaxPixels/(float64(e.Width)*float64(e.Height)), MaxPhotoMemory/float64(e.Memory)))
	return fmt.Sprintf("Scale it down to %d by %d pixels, or less.", max(1, int(by*float64(e.Width))), max(1, int(by*float64(e.Height))))
}

// ReadPhotoHead reads the head of a photograph, JPEG or PNG, of which data is
// the beginning. A TooLargeError comes with what the head says.
func ReadPhotoHead(data []byte) (PhotoHead, error) {
	config, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || kind != "jpeg" && kind != "png" || config.Width < 1 || config.Height < 1 {
		return PhotoHead{}, fmt.Errorf("is no picture that can be read")
	}
	h := PhotoHead{Kind: kind, Width: config.Width, Height: config.Height}
	if kind == "png" {
		h.Memory = pngMemory(data, int64(h.Width), int64(h.Height))
	} else {
		h.Memory = jpegMemory(data, int64(h.Width), int64(h.Height))
	}
	if int64(h.Width) > MaxPixels/int64(h.Height) || h.Memory > MaxPhotoMemory {
		return h, &TooLargeError{h}
	}
	return h, nil
}

// WithPixels decodes a photograph and hands its pixels to use, which keeps
// nothing of them. It waits while others that are open take the memory, and is
// the only way in which the pixels of a photograph are read.
func WithPixels(data []byte, use func(pixels image.Image, kind string) error) error {
	head, err := ReadPhotoHead(data)
	if err != nil {
		return err
	}
	if err := photoMemory.Acquire(context.Background(), head.Memory); err != nil {
		return err
	}
	defer photoMemory.Release(head.Memory)
	pixels, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return err
	}
	return use(pixels, head.Kind)
}

// pngMemory follows image/png: bytes a pixel by colour type and depth (PNG,
// third edition, section 11.2.1), and as much again for the passes of an
// interlaced picture.
func pngMemory(data []byte, width, height int64) int64 {
	const header = 8 + 8 // signature; length and name of IHDR
	depth, colour, interlaced := data[header+8], data[header+9], data[header+12] != 0
	pixel := int64(4)
	if colour == 3 || colour == 0 && !bytes.Contains(data, []byte("tRNS")) { // of a palette, or grey alone
		pixel = 1
	}
	if depth == 16 {
		pixel *= 2
		if pixel > 2 {
			pixel = 8
		}
	}
	all := saturated(saturated(width, height), pixel)
	if interlaced {
		all = saturated(all, 2)
	}
	return all + 2*8*width // two lines before they become pixels
}

// jpegMemory follows image/jpeg: the samples of each component in whole units,
// four bytes more for each as long as a progressive picture is not complete,
// and four for each pixel whose colours are not brightness and two of colour.
// A head that is laid out oddly counts as the dearest.
func jpegMemory(data []byte, width, height int64) int64 {
	samples, of, progressive, converted := int64(4), int64(1), true, true
	eachSegment(data, func(marker byte, segment []byte) bool {
		switch {
		case marker == 0xC4, marker == 0xDB, marker == 0xDD, marker >= 0xE0:
			return true
		case marker >= 0xC0 && marker <= 0xC2 && len(segment) >= 9 && len(segment) == 6+3*int(segment[5]):
			progressive = marker == 0xC2
			samples, of, converted = jpegSamples(segment[6:])
		}
		return false
	})
	converted = converted || ownColours(data)
	const unit = 32 // the largest side of a unit, four blocks
	whole := saturated((width+unit-1)/unit*unit, (height+unit-1)/unit*unit)
	all := saturated(whole, samples) / max(of, 1)
	if progressive {
		all = saturated(all, 5)
	}
	if converted {
		all += saturated(whole, 4)
	}
	return all
}

// jpegSamples gives how many samples the components have for so many of the
// first, and whether they are converted once decoded.
func jpegSamples(components []byte) (samples, of int64, converted bool) {
	for i := 0; i+2 < len(components); i += 3 {
		n := int64(components[i+1]>>4) * int64(components[i+1]&15)
		samples += n
		if i == 0 {
			of = n
		}
	}
	n := len(components) / 3
	if n == 1 {
		samples, of = 1, 1
	}
	return samples, of, n > 3 || components[0] == 'R'
}

// ownColours says that a segment of Adobe's, wherever it stands, makes the
// colours stand for themselves.
func ownColours(data []byte) bool {
	name := []byte("Adobe")
	for at := 0; ; at += len(name) {
		next := bytes.Index(data[at:], name)
		if next < 0 {
			return false
		}
		at += next
		if at >= 4 && data[at-4] == 0xFF && data[at-3] == 0xEE && at+11 < len(data) && data[at+11] == 0 {
			return true
		}
	}
}

// saturated multiplies and stays below what overflows.
func saturated(a, b int64) int64 {
	const most = math.MaxInt64 / 8
	if a > 0 && b > most/a {
		return most
	}
	return a * b
}
