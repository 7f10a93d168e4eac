package schema

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema/edtf"
	"yearmark/schema/english"

	"go.yaml.in/yaml/v3"
)

// scalar answers whether a node is one word, sentence or figure.
func (d *decoder) scalar(n *yaml.Node, k *key, want string) bool {
	if n.Kind == yaml.ScalarNode {
		return true
	}
	d.wrongType(n, strconv.Quote(k.name), want)
	return false
}

func readText(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "one word or sentence") {
		return false
	}
	if k.enum != nil && !slices.Contains(k.enum, n.Value) {
		d.report(CheckUnknownValue, d.pos(n), fmt.Sprintf("%q is not a value of %q", english.Clip(n.Value, 60), k.name), didYouMean(n.Value, k.enum, "Write "+orList(k.enum)+"."))
		d.offerNearest(d.pos(n), n.Value, k.enum)
		return false
	}
	if n.Value == "" && k.required {
		d.report(CheckMissingKey, d.pos(n), fmt.Sprintf("%q has no value", k.name), "Write it between the quotes: "+Sentence(k.about))
		return false
	}
	*to.Addr().Interface().(*Text) = Text{Value: n.Value, Pos: d.pos(n)}
	return true
}

func readNumber(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "a number") {
		return false
	}
	v, ok := figure(n.Value)
	if !ok {
		help := "Write a number such as 0.1 or 12."
		if strings.Contains(n.Value, ",") && plainDecimal(strings.Replace(n.Value, ",", ".", 1)) {
			help = fmt.Sprintf("Write a full stop before the decimals: %s.", strings.Replace(n.Value, ",", ".", 1))
		}
		d.report(CheckWrongType, d.pos(n), fmt.Sprintf("%q wants a number, not %q", k.name, english.Clip(n.Value, 60)), help)
		return false
	}
	if !d.within(n, k, v) {
		return false
	}
	*to.Addr().Interface().(*Number) = Number{Value: v, Pos: d.pos(n)}
	return true
}

func readWhole(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "a whole number") {
		return false
	}
	digits := strings.TrimPrefix(n.Value, "-")
	v, err := strconv.Atoi(n.Value)
	if err != nil || digits == "" || len(digits) > 9 || strings.Trim(digits, "0123456789") != "" {
		d.report(CheckWrongType, d.pos(n), fmt.Sprintf("%q wants a whole number, not %q", k.name, english.Clip(n.Value, 60)), "Write figures alone, as in 2 or 1965.")
		return false
	}
	if !d.within(n, k, float64(v)) {
		return false
	}
	*to.Addr().Interface().(*Whole) = Whole{Value: v, Pos: d.pos(n)}
	return true
}

func (d *decoder) within(n *yaml.Node, k *key, v float64) bool {
	if k.limits == nil || k.limits.allow(v) {
		return true
	}
	d.report(CheckOutOfBounds, d.pos(n), fmt.Sprintf("%q is out of bounds: %s", k.name, n.Value), fmt.Sprintf("Write a number %s.", k.limits.words))
	return false
}

func readFlag(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "true or false") {
		return false
	}
	if n.Value != "true" && n.Value != "false" {
		help := "Write true or false."
		switch strings.ToLower(n.Value) {
		case "yes", "y", "on", "1", "true":
			help = "Write true."
		case "no", "n", "off", "0", "false":
			help = "Write false."
		}
		d.report(CheckWrongType, d.pos(n), fmt.Sprintf("%q wants true or false, not %q", k.name, english.Clip(n.Value, 60)), help)
		return false
	}
	*to.Addr().Interface().(*Flag) = Flag{Value: n.Value == "true", Pos: d.pos(n)}
	return true
}

func readSpan(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if n.Kind == yaml.SequenceNode {
		d.report(CheckWrongType, d.pos(n), fmt.Sprintf("%q wants years, not a list", k.name), "Put the brackets in quotes: \"[1966,1968]\" is one of these years, \"1964/1967\" a stretch of years.")
		return false
	}
	if n.Kind == yaml.MappingNode {
		if text, ok := boundsOf(n); ok {
			return d.bounds(n, text, to)
		}
		d.report(CheckWrongType, d.pos(n), fmt.Sprintf("%q wants years, not keys and values", k.name), "Put braces in quotes: \"{1960,1962}\" is all of these years; {from: 1964..1965, to: 1966} is a span whose ends may lie in several.")
		return false
	}
	e, err := edtf.Parse(n.Value)
	if err != nil {
		d.mistaken(n, err)
		return false
	}
	*to.Addr().Interface().(*Span) = Span{Expr: e, Pos: d.pos(n)}
	return true
}

// boundsOf writes a mapping of from and to as one text; ok is false for any other.
func boundsOf(n *yaml.Node) (text string, ok bool) {
	var ends [2]string
	for i := 0; i+1 < len(n.Content); i += 2 {
		name, value := n.Content[i].Value, n.Content[i+1]
		at := slices.Index([]string{"from", "to"}, name)
		if at < 0 || ends[at] != "" || value.Kind != yaml.ScalarNode || value.Value == "" {
			return "", false
		}
		ends[at] = value.Value
	}
	return edtf.Bounds(ends[0], ends[1]), len(n.Content) > 0
}

// bounds reads a span written with from and to.
func (d *decoder) bounds(n *yaml.Node, text string, to reflect.Value) bool {
	e, err := edtf.Parse(text)
	if err != nil {
		d.mistaken(n, err)
		return false
	}
	*to.Addr().Interface().(*Span) = Span{Expr: e, Pos: d.pos(n)}
	return true
}

func readRange(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "a figure or a range") {
		return false
	}
	r, err := ParseRange(n.Value)
	if err != nil {
		d.mistaken(n, err)
		return false
	}
	r.Pos = d.pos(n)
	*to.Addr().Interface().(*Range) = r
	return true
}

func readRegion(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "a region such as xywh=percent:8,41,46,12") {
		return false
	}
	r, err := ParseRegion(n.Value)
	if err != nil {
		d.mistaken(n, err)
		return false
	}
	r.Pos = d.pos(n)
	*to.Addr().Interface().(*Region) = r
	return true
}

func readCitation(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if !d.scalar(n, k, "a source and a place in quotes") {
		return false
	}
	c, err := ParseCitation(n.Value, d.pos(n))
	if err != nil {
		d.mistaken(n, err)
		return false
	}
	*to.Addr().Interface().(*Citation) = c
	return true
}

// readAttestation reads {year, cites}, or a year alone, which rests on the
// citations of its claim.
func readAttestation(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if n.Kind != yaml.ScalarNode {
		return readStruct(d, n, k, to)
	}
	a := to.Addr().Interface().(*Attestation)
	a.Pos, a.Bare = d.pos(n), true
	year := key{name: "attested", limits: parseLimits("1..9999")}
	return readWhole(d, n, &year, reflect.ValueOf(&a.Year).Elem())
}

// readTeaching reads weight, years and steps, or "off".
func readTeaching(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if n.Kind == yaml.ScalarNode && (n.Value == "off" || n.Value == "false") {
		to.Set(reflect.ValueOf(Teaching{Pos: d.pos(n), Weight: Number{Pos: d.pos(n)}}))
		return true
	}
	return readStruct(d, n, k, to)
}

// readDispute reads true, false, or {with: [claim]}.
func readDispute(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	dispute := to.Addr().Interface().(*Dispute)
	if n.Kind == yaml.MappingNode {
		dispute.Value = readStruct(d, n, k, to)
		return dispute.Value
	}
	var open Flag
	if !readFlag(d, n, k, reflect.ValueOf(&open).Elem()) {
		return false
	}
	dispute.Pos, dispute.Value = open.Pos, open.Value
	return true
}

// entries walks a mapping whose keys are the writer's own.
func (d *decoder) entries(n *yaml.Node, k *key, each func(name, value *yaml.Node)) bool {
	if n.Kind != yaml.MappingNode {
		d.wrongType(n, strconv.Quote(k.name), "keys and values")
		return false
	}
	if len(n.Content) > 2*MaxClaims {
		d.report(CheckTooLarge, d.pos(n), fmt.Sprintf("%q has %d entries, more than %d", k.name, len(n.Content)/2, MaxClaims), "Nothing needs so many entries: shorten it.")
		return false
	}
	seen := make(map[string]bool, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		name := n.Content[i]
		switch {
		case name.Kind != yaml.ScalarNode:
			d.report(CheckWrongType, d.pos(name), "a key is a list or has keys of its own", "Write each key as one word, followed by a colon and a space.")
		case seen[name.Value] && k.name == "private":
			d.report(CheckRepeatedKey, d.pos(name), "a private key is written twice", "Keep one of the two, or name them apart.")
		case seen[name.Value]:
			d.repeatedKey(n, i)
		default:
			seen[name.Value] = true
			each(name, n.Content[i+1])
		}
	}
	return true
}

func readMarkSigns(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	var signs []MarkSign
	ok := d.entries(n, k, func(name, value *yaml.Node) {
		if name.Value == "" || value.Kind != yaml.ScalarNode {
			d.report(CheckWrongType, d.pos(name), "a sign wants one figure, as in -1 lb", "Write the sign in quotes, a colon, and what it adds: {\"•\": -1 lb}.")
			return
		}
		v, unit, err := ParseQuantity(value.Value)
		if err != nil {
			d.mistaken(value, err)
			return
		}
		adds := Range{Low: v, High: v, Unit: unit, Written: value.Value, Pos: d.pos(value)}
		signs = append(signs, MarkSign{Sign: Text{Value: name.Value, Pos: d.pos(name)}, Adds: adds})
	})
	*to.Addr().Interface().(*[]MarkSign) = signs
	return ok
}

// readPrivate reads what must not leave the folder. Its messages quote no value.
func readPrivate(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if n.Kind != yaml.MappingNode {
		d.report(CheckWrongType, d.pos(n), "\"private\" wants keys and values", "Write them one to a line and indented, as in owner: … and paid: …")
		return false
	}
	var kept []PrivateKey
	ok := d.entries(n, k, func(name, value *yaml.Node) {
		switch {
		case value.Kind != yaml.ScalarNode:
			d.report(CheckWrongType, d.pos(value), "a private entry wants one word or sentence", "Write it in quotes after its key.")
			return
		case isNull(value) && n.Style&yaml.FlowStyle != 0:
			d.report(CheckWrongType, d.pos(name), "a private entry has no value", "If it belongs to the text before it, put that whole text in quotes, because a comma ends it otherwise.")
			return
		}
		kept = append(kept, PrivateKey{Key: Text{Value: name.Value, Pos: d.pos(name)}, Value: Text{Value: value.Value, Pos: d.pos(value)}})
	})
	*to.Addr().Interface().(*[]PrivateKey) = kept
	return ok
}

func readCredence(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	m := to.Addr().Interface().(*map[SourceKind]Number)
	return readFigures(d, n, k, names(SourceKinds), func(name string, v Number) {
		if *m == nil {
			*m = map[SourceKind]Number{}
		}
		(*m)[SourceKind(name)] = v
	})
}

func readLooseness(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	m := to.Addr().Interface().(*map[string]Number)
	return readFigures(d, n, k, []string{"firm", "usual", "loose"}, func(name string, v Number) {
		if *m == nil {
			*m = map[string]Number{}
		}
		(*m)[name] = v
	})
}

func readFigures(d *decoder, n *yaml.Node, k *key, known []string, put func(string, Number)) bool {
	return d.entries(n, k, func(name, value *yaml.Node) {
		if !slices.Contains(known, name.Value) {
			d.report(CheckUnknownKey, d.pos(name), fmt.Sprintf("%q has no key %q", k.name, english.Clip(name.Value, 60)), didYouMean(name.Value, known, "Its keys are "+strings.Join(known, ", ")+"."))
			d.offerNearest(d.pos(name), name.Value, known)
			return
		}
		var v Number
		one := key{name: name.Value, limits: k.limits}
		if readNumber(d, value, &one, reflect.ValueOf(&v).Elem()) {
			put(name.Value, v)
		}
	})
}

// names gives named constants as plain text.
func names[S ~string](list []S) []string {
	all := make([]string, len(list))
	for i, s := range list {
		all[i] = string(s)
	}
	return all
}
