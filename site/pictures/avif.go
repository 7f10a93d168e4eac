package pictures

import "encoding/binary"

// avifTurn gives how an AVIF picture is to be turned before it is shown, as
// EXIF's orientation counts, by its boxes irot and imir (ISO/IEC 23008-12,
// 6.5.10 and 6.5.12); EXIF's own says nothing there. Of several the first counts.
func avifTurn(data []byte) int {
	properties := inBox(inBox(inBox(data, "meta", 4), "iprp", 0), "ipco", 0)
	angle, mirror := 0, 0
	if b := inBox(properties, "irot", 0); len(b) > 0 {
		angle = int(b[0] & 3) // quarter turns against the clock
	}
	if b := inBox(properties, "imir", 0); len(b) > 0 {
		mirror = 1 + int(b[0]&1) // top with bottom, left with right; after the turn
	}
	return [4][3]int{{1, 4, 2}, {8, 5, 7}, {3, 2, 4}, {6, 7, 5}}[angle][mirror]
}

// inBox gives what the first box of a kind holds (ISO/IEC 14496-12, 4.2), without
// the bytes skipped; nil of none.
func inBox(data []byte, kind string, skip int) []byte {
	for len(data) >= 8 {
		size := int64(binary.BigEndian.Uint32(data))
		if size < 8 || size > int64(len(data)) {
			return nil
		}
		if string(data[4:8]) == kind && size >= int64(8+skip) {
			return data[8+skip : size]
		}
		data = data[size:]
	}
	return nil
}
