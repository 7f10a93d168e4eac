package pictures

import (
	"image"
	"image/draw"
)

// scale gives the picture w by h pixels, neither more than it has: each pixel
// is the mean of what it covers, by area. All of it is whole numbers, so that
// every machine gives the same bytes.
func scale(from image.Image, w, h int) *image.RGBA {
	b := from.Bounds()
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	if b.Size() == to.Rect.Size() {
		draw.Draw(to, to.Rect, from, b.Min, draw.Src)
		return to
	}
	columns, rows := shares(b.Dx(), w), shares(b.Dy(), h)
	line := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1))
	narrow, sums := make([]uint64, 4*w), make([]uint64, 4*w)
	whole := uint64(b.Dx()) * uint64(b.Dy())
	at := -1 // the row of the original that narrow holds
	for y, row := range rows {
		clear(sums)
		for i := range row.count() {
			if row.first+i != at {
				at = row.first + i
				draw.Draw(line, line.Rect, from, image.Pt(b.Min.X, b.Min.Y+at), draw.Src)
				squeeze(narrow, line.Pix, columns)
			}
			weight := row.weight(i)
			for k, v := range narrow {
				sums[k] += weight * v
			}
		}
		for k, v := range sums {
			to.Pix[y*to.Stride+k] = uint8((v + whole/2) / whole)
		}
	}
	return to
}

// squeeze sums a line of the original over the columns that it becomes.
func squeeze(to []uint64, pix []uint8, columns []share) {
	for x, column := range columns {
		var r, g, b, a uint64
		for i := range column.count() {
			weight, p := column.weight(i), pix[4*(column.first+i):]
			r, g, b, a = r+weight*uint64(p[0]), g+weight*uint64(p[1]), b+weight*uint64(p[2]), a+weight*uint64(p[3])
		}
		to[4*x], to[4*x+1], to[4*x+2], to[4*x+3] = r, g, b, a
	}
}

// share is the run of old pixels that one new pixel covers. An old pixel has
// as many parts as there are new ones, so that all parts are whole.
type share struct {
	first, last   int    // the old pixels
	begin, middle uint64 // parts of the first of them, of each between
	end           uint64 // parts of the last; unused where it is the first
}

func (s share) count() int { return s.last - s.first + 1 }

func (s share) weight(i int) uint64 {
	switch i {
	case 0:
		return s.begin
	case s.last - s.first:
		return s.end
	}
	return s.middle
}

// shares lays new pixels over old ones, end to end. The parts of each share
// add up to the number of old pixels.
func shares(before, after int) []share {
	list := make([]share, after)
	for i := range list {
		from, to := i*before, (i+1)*before
		s := share{first: from / after, last: (to - 1) / after, middle: uint64(after)}
		s.begin = uint64(min((s.first+1)*after, to) - from)
		s.end = uint64(to - s.last*after)
		list[i] = s
	}
	return list
}
