package pages

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"strings"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// oddsView says how the odds are made: the judgement in them, and how they did.
type oddsView struct {
	Base        base
	Circa       int
	Changeover  int
	Temper      string
	Unrecorded  string
	Teach       string
	TeachHow    string
	Credences   []judgementView
	Looseness   []judgementView
	Observers   []judgementView
	Altered     []alteredView
	Calibration *calibrationView
	OpenData    []openDataView
}

// openDataView is one trial on open data.
type openDataView struct{ Set, Source, Trained, Held, Bits, Rivals, Sets string }

// openDataViews lists the trials that the default teaching was chosen by.
func openDataViews() []openDataView {
	var list []openDataView
	for _, o := range dating.OpenData() {
		v := openDataView{Set: o.Set, Source: o.Source, Trained: number(o.Trained), Held: number(o.Held), Bits: charts.Decimal(o.Bits, 2)}
		var rivals, sets []string
		for _, name := range slices.Sorted(maps.Keys(o.Rivals)) {
			rivals = append(rivals, name+" "+charts.Decimal(o.Rivals[name], 2))
		}
		for _, level := range slices.Sorted(maps.Keys(o.Sets)) {
			sets = append(sets, level+" %: "+charts.Percent(o.Sets[level][0])+" ("+charts.Percent(o.Sets[level][1])+")")
		}
		v.Rivals, v.Sets = strings.Join(rivals, ", "), strings.Join(sets, ", ")
		list = append(list, v)
	}
	return list
}

// openSources names the sources of the trials, each once.
func openSources(list []openDataView) string {
	var names []string
	for _, o := range list {
		if !slices.Contains(names, o.Source) {
			names = append(names, o.Source)
		}
	}
	return strings.Join(names, "; ")
}

// judgementView is one figure of the editor's.
type judgementView struct{ Of, Figure, Remark string }

type alteredView struct {
	Feature anchor
	To      string
	Chance  string
}

// calibrationView is how often the odds were right.
type calibrationView struct {
	Trials                    int
	Half, Most                coverageView
	MeanError, LogLoss, Guess string
	Temper                    string // what the trials say of it
	Misses                    []missView
	Rows                      []trialView
	LeftOut                   []leftOutView
}

type coverageView struct{ Share, Low, High, Held, Expected string }

type missView struct {
	Example                     anchor
	Year, Best, Chance, Because string
}

type trialView struct {
	Example            anchor
	Year, Best, Chance string
	InHalf, InMost     bool
}

type leftOutView struct {
	Example anchor
	Because string
}

func (p *page) odds() oddsView {
	j, defaults := p.ref.Settings.Judgement, schema.DefaultJudgement()
	v := oddsView{
		Base:  p.base("How the odds are made", "The rule behind every date, the judgement in it, and how often it was right.", ""),
		Circa: j.Circa.Value, Changeover: j.Changeover.Value, Temper: plainNumber(j.Temper.Value), Teach: "off", Unrecorded: plainNumber(j.Unrecorded.Value),
	}
	if t := j.Teach; t.Weight.Value > 0 {
		v.Teach = "on"
		v.TeachHow = "What the claims say weighs as much as this many bows: " + plainNumber(t.Weight.Value) + ". A bow is spread over " + english.Count(t.Years.Value, "year", "years") +
			" to either side, a figure over " + english.Count(t.Steps.Value, "step", "steps") + ". No bow helps to date itself, or another that the same place of the same source documents; what recollection or the web alone documents does not teach."
	}
	for _, kind := range schema.SourceKinds {
		v.Credences = append(v.Credences, judgementView{capital(kindWords[kind]), share(j.Credence[kind].Value), changed(j.Credence[kind].Value, defaults.Credence[kind].Value)})
	}
	for _, held := range []string{"firm", "usual", "loose"} {
		v.Looseness = append(v.Looseness, judgementView{capital(held), share(j.Looseness[held].Value), changed(j.Looseness[held].Value, defaults.Looseness[held].Value)})
	}
	observers := p.facts.Engine().Observers()
	for _, s := range schema.Surenesses {
		v.Observers = append(v.Observers, judgementView{capital(cmp.Or(sureWords[s], "sure")), share(observers[s]), ""})
	}
	for _, f := range p.ref.Features.All() {
		if f.Altered != nil && f.Altered.Chance.Value > 0 {
			var names []string
			for _, t := range f.Altered.To {
				names = append(names, f.ValueName(t.Value))
			}
			v.Altered = append(v.Altered, alteredView{anchor{p.to(f.Address()), f.Title()}, english.And(names), share(f.Altered.Chance.Value)})
		}
	}
	v.Calibration, v.OpenData = p.calibrationOf(p.tried()), openDataViews()
	return v
}

// yesNo answers a question of a table.
func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// changed says that the editor departed from the default.
func changed(is, was float64) string {
	if is == was {
		return ""
	}
	return "this register’s own; the default is " + share(was)
}

// calibration is the one given, or worked out here.
func (s *Site) calibration() *dating.Calibration {
	if s.facts.Calibration != nil {
		c := s.facts.Calibration()
		return &c
	}
	c, _ := s.dated.leaveOneOut().Calibrate(context.Background()) // which never ends
	return &c
}

// trialsShown bounds the table of trials.
const trialsShown = 200

func (p *page) calibrationOf(c *dating.Calibration) *calibrationView {
	if len(c.Trials) == 0 {
		return nil
	}
	v := &calibrationView{
		Trials: len(c.Trials), Half: coverageOf(c.Half), Most: coverageOf(c.Most),
		MeanError: charts.Decimal(c.MeanError, 2), LogLoss: charts.Decimal(c.LogLoss, 2), Guess: charts.Decimal(c.GuessLogLoss, 2),
		Temper: c.TemperWords(),
	}
	for _, m := range c.Misses {
		v.Misses = append(v.Misses, missView{p.exampleAnchor(m.Example), number(m.Year), number(m.Best.Year), charts.Percent(m.Chance), capital(m.Because)})
	}
	for _, t := range slices.Clone(c.Trials)[:min(len(c.Trials), trialsShown)] {
		v.Rows = append(v.Rows, trialView{p.exampleAnchor(t.Example), number(t.Year), number(t.Best.Year), charts.Percent(t.Chance), t.InHalf, t.InMost})
	}
	for _, l := range c.LeftOut {
		v.LeftOut = append(v.LeftOut, leftOutView{p.exampleAnchor(l.Example), l.Because})
	}
	return v
}

func coverageOf(c dating.Coverage) coverageView {
	return coverageView{
		Share: charts.Percent(c.Share()), Low: charts.Percent(c.Low), High: charts.Percent(c.High),
		Held: number(c.Held) + " of " + number(c.Of), Expected: charts.Decimal(c.Expected, 0),
	}
}

func (p *page) exampleAnchor(id string) anchor {
	if e, ok := p.ref.Examples.Get(id); ok {
		return anchor{p.to(e.Address()), e.Title()}
	}
	return anchor{Text: id}
}
