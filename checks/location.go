package checks

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
)

// findLocation says by which means a photograph tells where it was taken, or
// nothing. It reads EXIF (Exif 2.3, tag 8825 of the first directory) and XMP
// in JPEG and PNG; data that is damaged tells nothing.
func findLocation(data []byte, kind string) string {
	if kind == "png" {
		return locationInPNG(data)
	}
	return locationInJPEG(data)
}

// locationInJPEG walks the segments before the pixels.
func locationInJPEG(data []byte) string {
	by := ""
	eachSegment(data, func(marker byte, segment []byte) bool {
		if marker != 0xE1 {
			return true
		}
		if tiff, ok := bytes.CutPrefix(segment, []byte("Exif\x00\x00")); ok && hasGPS(tiff) {
			by = "EXIF"
		} else if bytes.HasPrefix(segment, []byte("http://ns.adobe.com/")) && placesInXMP(segment) {
			by = "XMP"
		}
		return by == ""
	})
	return by
}

// eachSegment hands out the segments of a JPEG before the pixels, until see
// gives false or the data is damaged.
func eachSegment(data []byte, see func(marker byte, segment []byte) bool) {
	for i := 2; i+4 <= len(data) && data[i] == 0xFF; {
		marker := data[i+1]
		if marker == 0xFF {
			i++ // fill
			continue
		}
		if marker == 0xDA || marker == 0xD9 {
			return
		}
		size := int(binary.BigEndian.Uint16(data[i+2:]))
		if size < 2 || i+2+size > len(data) || !see(marker, data[i+4:i+2+size]) {
			return
		}
		i += 2 + size
	}
}

// locationInPNG walks the chunks; eXIf may stand before or after the pixels.
func locationInPNG(data []byte) string {
	const signature = 8
	for i := signature; i+8 <= len(data); {
		size := int(binary.BigEndian.Uint32(data[i:]))
		if size < 0 || size > len(data)-i-8 {
			break
		}
		chunk := data[i+8 : i+8+size]
		switch string(data[i+4 : i+8]) {
		case "eXIf":
			if hasGPS(chunk) {
				return "EXIF"
			}
		case "iTXt", "tEXt":
			if placesInXMP(chunk) {
				return "XMP"
			}
			if hasGPS(rawProfile(chunk)) {
				return "EXIF"
			}
		}
		i += 12 + size
	}
	return ""
}

// rawProfile gives the EXIF that some programs write into a text chunk as
// hexadecimal digits.
func rawProfile(chunk []byte) []byte {
	const name = "Raw profile type "
	if !bytes.HasPrefix(chunk, []byte(name)) {
		return nil
	}
	var digits []byte
	for i, line := range bytes.Split(chunk, []byte("\n")) {
		if i > 2 {
			digits = append(digits, bytes.TrimSpace(line)...)
		}
	}
	raw := make([]byte, hex.DecodedLen(len(digits)))
	n, _ := hex.Decode(raw, digits)
	return bytes.TrimPrefix(raw[:n], []byte("Exif\x00\x00"))
}

func placesInXMP(data []byte) bool {
	return bytes.Contains(data, []byte("GPSLatitude")) || bytes.Contains(data, []byte("GPSLongitude")) ||
		bytes.Contains(data, []byte("GPSCoordinates"))
}

// hasGPS says whether the first directory of EXIF points to a GPS directory
// that holds a latitude (tag 2) or a longitude (tag 4).
func hasGPS(tiff []byte) bool {
	order := byteOrder(tiff)
	if order == nil || len(tiff) < 8 {
		return false
	}
	const gpsDirectory = 0x8825
	at, found := tag(tiff, order, order.Uint32(tiff[4:]), gpsDirectory)
	if !found {
		return false
	}
	_, latitude := tag(tiff, order, at, 2)
	_, longitude := tag(tiff, order, at, 4)
	return latitude || longitude
}

func byteOrder(tiff []byte) binary.ByteOrder {
	switch {
	case bytes.HasPrefix(tiff, []byte("II*\x00")):
		return binary.LittleEndian
	case bytes.HasPrefix(tiff, []byte("MM\x00*")):
		return binary.BigEndian
	}
	return nil
}

// tag finds an entry in the directory that begins at offset and gives its
// value field as a whole.
func tag(tiff []byte, order binary.ByteOrder, offset uint32, want uint16) (value uint32, found bool) {
	field, found := tagField(tiff, order, offset, want)
	if !found {
		return 0, false
	}
	return order.Uint32(field), true
}

// shortTag is tag for an entry whose value is one short.
func shortTag(tiff []byte, order binary.ByteOrder, offset uint32, want uint16) (value uint16, found bool) {
	field, found := tagField(tiff, order, offset, want)
	if !found {
		return 0, false
	}
	return order.Uint16(field), true
}

// tagField gives the four bytes of an entry's value field.
func tagField(tiff []byte, order binary.ByteOrder, offset uint32, want uint16) (field []byte, found bool) {
	at := int64(offset)
	if at+2 > int64(len(tiff)) {
		return nil, false
	}
	n := int64(order.Uint16(tiff[at:]))
	for i := range n {
		entry := at + 2 + 12*i
		if entry+12 > int64(len(tiff)) {
			return nil, false
		}
		if order.Uint16(tiff[entry:]) == want {
			return tiff[entry+8 : entry+12], true
		}
	}
	return nil, false
}

// Orientation gives how a JPEG photograph is to be turned before it is shown,
// by tag 0112 of EXIF: 1 as it is, up to 8 as the standard numbers them. A
// photograph that does not say, or says anything else, is shown as it is.
func Orientation(data []byte) int {
	const orientation = 0x0112
	turn := 1
	eachSegment(data, func(marker byte, segment []byte) bool {
		tiff, ok := bytes.CutPrefix(segment, []byte("Exif\x00\x00"))
		order := byteOrder(tiff)
		if marker != 0xE1 || !ok || order == nil || len(tiff) < 8 {
			return true
		}
		value, found := shortTag(tiff, order, order.Uint32(tiff[4:]), orientation)
		if found && value >= 1 && value <= 8 {
			turn = int(value)
		}
		return false
	})
	return turn
}
