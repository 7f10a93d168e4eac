package edtf

// timeOfDay reads T and a time of day, perhaps with a shift from UTC. It moves
// no year: the date stands as written.
func (s *scanner) timeOfDay(d date, parts []component) (date, *SyntaxError) {
	if len(parts) < 3 || d.masked || d.doubted || d.approximate {
		return d, fault(s.at(), "a time of day needs a whole, unmarked day before it", "write it as in 1964-05-02T14:30:00, or leave the time out")
	}
	d.clock = true
	s.take("T")
	if f := s.clock(24, 60, 60); f != nil {
		return d, f
	}
	switch {
	case s.take("Z") != 0:
	case s.take("+-") != 0:
		if f := s.shift(); f != nil {
			return d, f
		}
	}
	if !s.done() {
		return d, s.stray()
	}
	return d, nil
}

// shift reads hours, or hours and minutes, from UTC.
func (s *scanner) shift() *SyntaxError {
	if len(s.text)-s.pos == 2 {
		return s.clock(24)
	}
	return s.clock(24, 60)
}

// clock reads numbers of two digits, each below its limit, with colons between.
func (s *scanner) clock(limits ...int) *SyntaxError {
	for i, limit := range limits {
		at := s.at()
		if i > 0 && s.take(":") == 0 {
			return fault(at, "the time of day is not whole", "write hours, minutes and seconds as in T14:30:00, or leave the time out")
		}
		at = s.at()
		n := s.run(digits)
		if len(n) != 2 || int(n[0]-'0')*10+int(n[1]-'0') >= limit {
			return fault(at, "the time of day is none that a clock shows", "write hours to 23, minutes and seconds to 59, as in T14:30:00, or leave the time out")
		}
	}
	return nil
}
