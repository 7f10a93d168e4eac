package tables

// dependencesFile names the file of dependences and the features that it ties.
type dependencesFile struct {
	File     string   `json:"file"`
	Features []string `json:"features"`
}

// dependence is one dependence: the features by their places in the header.
type dependence struct {
	Given      []cut       `json:"given"`
	Dependents []dependent `json:"dependents"`
	Pairs      []int32     `json:"pairs"` // [start, end, …], the end not among them
}

// cut is a feature given, its row, and its classes as [to, class, …].
type cut struct {
	Feature int     `json:"feature"`
	Row     uint32  `json:"row"`
	Classes int     `json:"classes"`
	ClassOf []int32 `json:"classOf"`
}

type dependent struct {
	Feature int      `json:"feature"`
	On      []int    `json:"on"`
	Rows    []uint32 `json:"rows"`
}

// dependences writes the file of what conditions tie together, or gives nil
// where nothing is tied.
func (b *builder) dependences() *dependencesFile {
	t := b.engine.Table()
	if len(t.Dependences) == 0 {
		return nil
	}
	tied := make([]bool, len(t.Features))
	list := make([]dependence, 0, len(t.Dependences))
	for i := range t.Dependences {
		var d dependence
		for _, g := range t.Dependences[i].Given {
			tied[g.Feature] = true
			one := cut{Feature: g.Feature, Row: g.Row, Classes: g.Classes}
			for _, run := range g.ClassOf {
				one.ClassOf = append(one.ClassOf, run.To, run.Class)
			}
			d.Given = append(d.Given, one)
		}
		for _, of := range t.Dependences[i].Dependents {
			tied[of.Feature] = true
			d.Dependents = append(d.Dependents, dependent{of.Feature, of.On, of.Rows})
		}
		for _, p := range t.Dependences[i].Pairs {
			d.Pairs = append(d.Pairs, p.Start, p.End)
		}
		list = append(list, d)
	}
	f := &dependencesFile{File: b.add("dependences", list)}
	for i, is := range tied {
		if is {
			f.Features = append(f.Features, t.Features[i].ID)
		}
	}
	return f
}
