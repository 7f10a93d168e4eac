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
	for i := 2; i+4 <= len(data) && data[i] == 0xFF; {
		marker := data[i+1]
		if marker == 0xFF {
			i++ // fill
			continue
		}
		if marker == 0xDA || marker == 0xD9 {
			break
		}
		size := int(binary.BigEndian.Uint16(data[i+2:]))
		if size < 2 || i+2+size > len(data) {
			break
		}
		segment := data[i+4 : i+2+size]
		if marker == 0xE1 {
			if tiff, ok := bytes.CutPrefix(segment, []byte("Exif\x00\x00")); ok && hasGPS(tiff) {
				return "EXIF"
			}
			if bytes.HasPrefix(segment, []byte("http://ns.adobe.com/")) && placesInXMP(segment) {
				return "XMP"
			}
		}
		i += 2 + size
	}
	return ""
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
// value field.
func tag(tiff []byte, order binary.ByteOrder, offset uint32, want uint16) (value uint32, found bool) {
	at := int64(offset)
	if at+2 > int64(len(tiff)) {
		return 0, false
	}
	n := int64(order.Uint16(tiff[at:]))
	for i := range n {
		entry := at + 2 + 12*i
		if entry+12 > int64(len(tiff)) {
			return 0, false
		}
		if order.Uint16(tiff[entry:]) == want {
			return order.Uint32(tiff[entry+8:]), true
		}
	}
	return 0, false
}
