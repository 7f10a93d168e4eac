package sound

import (
	"bytes"
	"encoding/binary"
)

// cleanOgg writes blanks over the comments of an Ogg stream, which stand in its
// second packet, and the checksums of its pages anew (RFC 3533, section 6;
// Vorbis I, section 5; RFC 7845, section 5.2). A file of several streams one
// after the other, or beside each other, gives nothing.
func cleanOgg(data []byte) []byte {
	clean := bytes.Clone(data)
	var comments []int // the places of the bytes of the second packet
	packet, serial := 0, uint32(0)
	var pages [][2]int
	for at := 0; at < len(clean); {
		page, ok := pageAt(clean, at)
		if !ok || at > 0 && (page.first || page.serial != serial) {
			return nil
		}
		serial = page.serial
		pages = append(pages, [2]int{at, page.end})
		body := page.body
		for _, length := range page.lengths {
			if packet == 1 {
				for i := range int(length) {
					comments = append(comments, body+i)
				}
			}
			if body += int(length); length < 255 {
				packet++
			}
		}
		at = page.end
	}
	if packet < 2 || !blank(clean, comments) {
		return nil
	}
	for _, p := range pages {
		sum(clean[p[0]:p[1]])
	}
	return clean
}

// page is the head of one page.
type page struct {
	first     bool // of a stream
	serial    uint32
	lengths   []byte // of the pieces of packets in it
	body, end int
}

func pageAt(data []byte, at int) (p page, ok bool) {
	const head = 27
	if at+head > len(data) || string(data[at:at+4]) != "OggS" {
		return p, false
	}
	pieces := int(data[at+head-1])
	p.body = at + head + pieces
	if p.body > len(data) {
		return p, false
	}
	p.first, p.serial = data[at+5]&2 != 0, binary.LittleEndian.Uint32(data[at+14:])
	p.lengths = data[at+head : p.body]
	p.end = p.body
	for _, length := range p.lengths {
		p.end += int(length)
	}
	return p, p.end <= len(data)
}

// blank writes blanks over what a packet of comments says, and answers whether
// it is one. Each comment becomes "X=" and blanks.
func blank(data []byte, at []int) bool {
	read := make([]byte, len(at))
	for i, place := range at {
		read[i] = data[place]
	}
	start, framing := 0, 0
	switch {
	case bytes.HasPrefix(read, []byte("\x03vorbis")):
		start, framing = len("\x03vorbis"), 1 // one byte ends the packet
	case bytes.HasPrefix(read, []byte("OpusTags")):
		start = len("OpusTags")
	default:
		return false
	}
	next := func() (int, bool) {
		if start+4 > len(read) {
			return 0, false
		}
		n := binary.LittleEndian.Uint32(read[start:])
		start += 4
		return int(n), n <= uint32(len(read)-start)
	}
	write := func(length int, mark string) {
		for i := range length {
			data[at[start+i]] = ' '
			if i < len(mark) && length >= len(mark) {
				data[at[start+i]] = mark[i]
			}
		}
		start += length
	}
	length, ok := next()
	if !ok {
		return false
	}
	write(length, "") // who made the program
	if start+4 > len(read) {
		return false
	}
	count := binary.LittleEndian.Uint32(read[start:])
	start += 4
	for range count {
		if length, ok = next(); !ok {
			return false
		}
		write(length, "X=")
	}
	for i := start + framing; i < len(at); i++ {
		data[at[i]] = 0 // which players of Opus pass over
	}
	return true
}

// sum writes a page's checksum: CRC-32 by the polynomial 04C11DB7, from nought,
// with no bits turned (RFC 3533, section 6).
func sum(page []byte) {
	binary.LittleEndian.PutUint32(page[22:], 0)
	var crc uint32
	for _, b := range page {
		crc = crc<<8 ^ crcTable[byte(crc>>24)^b]
	}
	binary.LittleEndian.PutUint32(page[22:], crc)
}

var crcTable = func() (table [256]uint32) {
	for i := range table {
		crc := uint32(i) << 24
		for range 8 {
			if crc&(1<<31) != 0 {
				crc = crc<<1 ^ 0x04C11DB7
			} else {
				crc <<= 1
			}
		}
		table[i] = crc
	}
	return table
}()
