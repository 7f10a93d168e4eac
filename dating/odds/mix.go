package odds

import (
	"math"
	"slices"
)

// runs gives the outcomes of a row as runs that hold each once.
func (r *Row) runs(outcomes int) []Cell {
	var list []Cell
	from := int32(0)
	for _, c := range r.Cells {
		if from < c.From {
			list = append(list, Cell{From: from, To: c.From - 1, Chance: r.Rest})
		}
		list = append(list, c)
		from = c.To + 1
	}
	if int(from) < outcomes {
		list = append(list, Cell{From: from, To: int32(outcomes) - 1, Chance: r.Rest})
	}
	return list
}

// rowOf makes a row of runs that hold every outcome once.
func rowOf(runs []Cell, silent bool) Row {
	row := Row{Rest: math.Inf(1), Silent: silent}
	for _, c := range runs {
		row.Rest = min(row.Rest, c.Chance)
	}
	for _, c := range runs {
		n := len(row.Cells)
		switch {
		case c.Chance == row.Rest && !c.Possible:
		case n > 0 && row.Cells[n-1].To+1 == c.From && row.Cells[n-1].Chance == c.Chance && row.Cells[n-1].Possible == c.Possible:
			row.Cells[n-1].To = c.To
		default:
			row.Cells = append(row.Cells, c)
		}
	}
	return row
}

// Part is a row with its weight in a mixture, and whether, taken strictly, it can be.
type Part struct {
	Row      *Row
	Weight   float64
	Possible bool
}

// Mix gives the mixture of rows whose weights sum to 1. An outcome is possible
// where it is in some part that can be.
func Mix(parts []Part, outcomes int) Row {
	cuts := []int32{0, int32(outcomes)}
	silent := false
	for _, p := range parts {
		silent = silent || p.Possible && p.Row.Silent
		for _, c := range p.Row.Cells {
			cuts = append(cuts, c.From, c.To+1)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var runs []Cell
	for i := 0; i+1 < len(cuts); i++ {
		cell := Cell{From: cuts[i], To: cuts[i+1] - 1}
		at := []int{int(cell.From)}
		for _, p := range parts {
			cell.Chance += float64(p.Weight * p.Row.chance(at))
			cell.Possible = cell.Possible || p.Possible && !p.Row.Silent && p.Row.allows(at)
		}
		runs = append(runs, cell)
	}
	return rowOf(runs, silent)
}
