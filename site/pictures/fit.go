package pictures

import (
	"bytes"
	"fmt"
	"image"
	"io"
	"path"
	"strings"

	"github.com/gen2brain/avif"
	"github.com/gen2brain/heic"
	"golang.org/x/image/webp"

	"yearmark/checks"
)

// Fit makes a picture that somebody hands in fit to be kept among the records:
// turned upright, without tags, its longer side at most so many pixels. JPEG
// and PNG stay what they are; HEIC, AVIF and WebP become JPEG. It gives the ending of
// the file too. The error says in a sentence what is wrong and how to mend it.
func Fit(name string, data []byte, most int) (fitted []byte, ending string, err error) {
	switch strings.ToLower(path.Ext(name)) {
	case ".heic", ".heif":
		return asJPEG(data, most, decoder{heic.DecodeConfig, heic.Decode}, 1)
	case ".avif":
		return asJPEG(data, most, decoder{avif.DecodeConfig, avif.Decode}, avifTurn(data))
	case ".webp":
		return asJPEG(data, most, decoder{webp.DecodeConfig, webp.Decode}, 1)
	case ".tif", ".tiff", ".gif", ".bmp", ".pdf":
		return nil, "", fmt.Errorf("%s cannot be taken as it is; save it as a JPEG or PNG and choose that", path.Base(name))
	}
	photo, err := Look(path.Base(name), data)
	if err != nil {
		return nil, "", fmt.Errorf("%w; choose a JPEG, PNG, HEIC, AVIF or WebP", err)
	}
	head, err := checks.ReadPhotoHead(data)
	if err != nil {
		return nil, "", err
	}
	ending = map[string]string{"jpeg": ".jpg", "png": ".png"}[head.Kind]
	w, h := within(photo.Width, photo.Height, most)
	err = photo.Make(data, []Size{{Width: w, Height: h}}, func(_ Size, made []byte) error {
		fitted = bytes.Clone(made)
		return nil
	})
	return fitted, ending, err
}

// within gives the size of a picture whose longer side is at most so long.
func within(width, height, most int) (w, h int) {
	longer := max(width, height)
	if longer <= most {
		return width, height
	}
	return max(1, width*most/longer), max(1, height*most/longer)
}

// decoder reads pictures of one kind.
type decoder struct {
	config func(io.Reader) (image.Config, error)
	pixels func(io.Reader) (image.Image, error)
}

// asJPEG makes a JPEG of a picture. turn is what its decoder leaves to be turned,
// as EXIF's orientation counts.
func asJPEG(data []byte, most int, by decoder, turn int) ([]byte, string, error) {
	config, err := by.config(bytes.NewReader(data))
	if err != nil || config.Width < 1 || config.Height < 1 {
		return nil, "", fmt.Errorf("this is no picture that can be read; save it as a JPEG and choose that")
	}
	if int64(config.Width)*int64(config.Height) > checks.MaxPixels {
		return nil, "", fmt.Errorf("the picture has %d by %d pixels, more than can be opened; scale it down first", config.Width, config.Height)
	}
	pixels, err := by.pixels(bytes.NewReader(data))
	if err != nil {
		return nil, "", fmt.Errorf("this picture cannot be read to its end; save it as a JPEG and choose that")
	}
	w, h := within(pixels.Bounds().Dx(), pixels.Bounds().Dy(), most)
	var out bytes.Buffer
	err = encode(&out, "jpeg", turned(scale(pixels, w, h), turn))
	return out.Bytes(), ".jpg", err
}
