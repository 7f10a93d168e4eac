package schema

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// plan is how one type is read, worked out once from its struct tags.
type plan struct {
	noun   string // what a person calls it: "an era", "a source"
	keys   []key
	byName map[string]int // place in keys
	pos    int            // index of the field Pos, or -1
}

// key is one key of a mapping and the field that it fills.
type key struct {
	name     string
	index    int
	kinds    abouts // kinds of claim that may have it; 0 for all
	child    About  // what the claims in this field are about
	required bool
	must     abouts // kinds of claim in which it is required
	enum     []string
	limits   *limits
	about    string // one sentence for people
	read     reader
}

// abouts is a set of About.
type abouts uint

var allAbouts = []About{AboutMade, AboutEra, AboutFeature, AboutSpec, AboutTrading, AboutOwner, aboutMakerFeature, aboutMakerSpec}

// aboutNouns are what people call the kinds of claim.
var aboutNouns = map[About]string{
	AboutMade: "the made span", AboutEra: "an era", AboutFeature: "a feature claim",
	AboutSpec: "a spec claim", AboutTrading: "the trading span", AboutOwner: "an owner",
	aboutMakerFeature: "a maker's feature claim", aboutMakerSpec: "a maker's spec claim",
}

func (a abouts) has(about About) bool { return a&about.bit() != 0 }

func (a About) bit() abouts {
	if i := slices.Index(allAbouts, a); i >= 0 {
		return 1 << i
	}
	return 0
}

func aboutSet(tag string) abouts {
	var set abouts
	for _, word := range strings.Fields(tag) {
		set |= About(word).bit()
	}
	return set
}

// limits are the least and the greatest figure of a field, from its tag
// `within:"0..50"`; "0<..1" leaves the lower end out.
type limits struct {
	low, high float64
	above     bool // low itself is outside
	words     string
}

func parseLimits(tag string) *limits {
	if tag == "" {
		return nil
	}
	low, high, _ := strings.Cut(tag, "..")
	l := &limits{above: strings.HasSuffix(low, "<")}
	low = strings.TrimSuffix(low, "<")
	l.low, _ = strconv.ParseFloat(low, 64)
	l.high, _ = strconv.ParseFloat(high, 64)
	l.words = "from " + low + " to " + high
	if l.above {
		l.words = "above " + low + " and at most " + high
	}
	return l
}

func (l *limits) allow(v float64) bool {
	return v >= l.low && v <= l.high && !(l.above && v == l.low)
}

// names gives every key that a claim of that kind may have, or all of them.
func (p *plan) names(about About) []string {
	var all []string
	for i := range p.keys {
		if k := &p.keys[i]; k.kinds == 0 || about == "" || k.kinds.has(about) {
			all = append(all, k.name)
		}
	}
	return all
}

var plans sync.Map // reflect.Type -> *plan

// planOf gives the plan of a struct type.
func planOf(t reflect.Type) *plan {
	if p, ok := plans.Load(t); ok {
		return p.(*plan)
	}
	p, _ := plans.LoadOrStore(t, makePlan(t))
	return p.(*plan)
}

func makePlan(t reflect.Type) *plan {
	p := &plan{noun: nounOf(t), byName: map[string]int{}, pos: -1}
	isClaim := t == reflect.TypeFor[Claim]()
	for i := range t.NumField() {
		f := t.Field(i)
		name := f.Tag.Get("yaml")
		if f.Name == "Pos" && name == "-" {
			p.pos = i
		}
		if name == "-" || name == "" {
			continue
		}
		k := key{
			name: name, index: i, limits: parseLimits(f.Tag.Get("within")), must: aboutSet(f.Tag.Get("must")),
			about: f.Tag.Get("jsonschema_description"), read: readerFor(f.Type),
		}
		if of := f.Tag.Get("of"); isClaim {
			k.kinds = aboutSet(of)
		} else {
			k.child = About(of)
		}
		k.required, k.enum = parseRules(f.Tag.Get("jsonschema"))
		p.byName[name] = len(p.keys)
		p.keys = append(p.keys, k)
	}
	return p
}

func parseRules(tag string) (required bool, enum []string) {
	for rule := range strings.SplitSeq(tag, ",") {
		if rule == "required" {
			required = true
		}
		if value, ok := strings.CutPrefix(rule, "enum="); ok {
			enum = append(enum, value)
		}
	}
	return required, enum
}

// nouns are what people call the types, where the name itself will not do.
var nouns = map[string]string{
	"Settings": "reference.yaml", "Judgement": "judgement", "Claim": "a claim", "WeightMarks": "weight-marks", "SpecialOrders": "special-orders", "SaysNothing": "an entry of says-nothing", "Hint": "an entry of look-first", "Gap": "an entry of missing", "NeverSeen": "an entry of never-seen", "Rate": "an entry of counted",
	"Order": "an order statement", "Related": "a related model", "Output": "an output figure", "Withdrawn": "a withdrawn claim",
	"FeatureValue": "a value", "Point": "a point", "Likeness": "a look-alike", "Altered": "altered", "Copied": "copied", "SourcePlace": "a place", "Mending": "a mending", "Observed": "an observation", "Documented": "documented",
	"Condition": "a condition", "Shown": "a picture", "Attribution": "an attribution", "Setup": "setup", "Event": "a line of the history", "Settlement": "settled", "Dispute": "disputed", "Submitted": "submitted", "Attestation": "an attestation", "Count": "a count", "OtherName": "another name", "Teaching": "teach", "Example": "an example",
}

func nounOf(t reflect.Type) string {
	if n, ok := nouns[t.Name()]; ok {
		return n
	}
	return "a " + strings.ToLower(t.Name())
}
