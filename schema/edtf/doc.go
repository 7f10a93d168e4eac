// Package edtf reads dates written in EDTF, the extended date-time format of
// ISO 8601-2:2019, and turns them into whole years. It reads levels 0 and 1
// and level 2 as the Library of Congress describes them (4 February 2019); it
// depends on nothing but the standard library.
//
// Parse gives an Expr, which keeps the text and tells its first and last
// calendar year. Expr.Years sets it in a Frame and gives four years A <= B,
// C <= D: possible from A, certain from B, certain to C, possible to D. With
// w the Frame's Circa:
//
//	written        A           B           C           D
//	1964           1964        1964        1964        1964
//	1964/1967      1964        1964        1967        1967
//	1964~/1967     1964-w      1964+w      1967        1967
//	1964~          1964-w      1964+w      1964-w      1964+w
//	1964/..        1964        1964        end of the horizon, both
//	1964/          1964        1964        1964        end of the made span
//	../1964        start of the made span  1964        1964
//	/1964          start of the made span  1964        1964        1964
//	195X/1962      1950        1959        1962        1962
//	196X           one of 1960 to 1969, no year certain
//	[1966,1968]    one of the two, no year certain
//	{1960,1962}    both, and no other
//	1968?          as 1968: doubt moves no year
//	1968%          as 1968~, and doubted
//
// In the row of /1964 the start lies from the start of the made span to 1964.
//
// # Choices
//
// The published text leaves these open, or this package departs from what
// another reader does:
//
//   - "~" is out by Frame.Circa years to either side; "?" is doubt about the
//     statement and moves no year; "%" is both.
//   - "~" and "%" widen the year wherever they cover it. A mark on the right of
//     a month or day covers the year too: 1964-06~ widens like 1964~. A mark on
//     the left covers its own part alone: 1964-~06 stays in 1964.
//   - The start and the end of 1964~ vary independently, like those of
//     1964~/1964~. Nothing here says that a start comes before its end: that is
//     for whoever reasons over many spans.
//   - An approximate decade or other open year, 196X~, is one of the years from
//     w before its first to w after its last: 1958 to 1971 with w = 2.
//   - A month, a day and a part of a year count as their year. Winter (24, 28,
//     32) and the southern summer (30) count as the year they are written with,
//     also where they run into the next. Seasons may lie anywhere in their year;
//     only quarters, thirds and halves have known months.
//   - ".." is without end, so it runs to the end of the horizon; an end that is
//     left empty is unknown, so it lies between the other end and the end of
//     the made span. Earliest and Latest have no answer for either. At least
//     one end must have a date.
//   - An interval begins sometime in its first date and ends sometime in its
//     last; it holds throughout between.
//   - An interval may have two ends of unlike precision. It is reversed, and
//     refused, only where its first day comes after its last; 1964/1964 is one
//     year.
//   - In [ ] a date may have X, S or a mark, and "~" widens it. In { } each must
//     be one known year, doubted or not: all of an unknown year says nothing
//     clear. The ends of a run (1960..1964) must be known years too. Only the
//     first member may have an open start and only the last an open end, which
//     run to the horizon.
//   - A set of more than MaxMembers years is not listed year by year: where it
//     has gaps it then counts as every year from its first to its last.
//   - 1950S2 is one of 1900 to 1999, and Estimate gives the 1950. S counts no
//     more digits than are written.
//   - X in a year before year 0 is refused. 196X-02-29 is one of the leap years.
//   - XXXX is level 2: the text shows one or two X, on the right, at level 1.
//     Parts of a year in intervals and sets are level 2.
//   - A time of day is read on a date that stands alone, and the date counts as
//     written whatever the shift from UTC.
//   - Spaces, small letters, year -0000, hour 24 and a second mark on the same
//     part are refused. No year has more than nine digits and no text more than
//     MaxLength bytes.
package edtf
