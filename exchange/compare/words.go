package compare

import (
	"cmp"
	"fmt"
	"strings"

	"yearmark/dating"
	"yearmark/schema/edtf"
)

// named is how many models a sentence names.
const named = 4

func (c *Changes) modelYears(list []dating.ModelYears) string {
	var parts []string
	for i, m := range list {
		if i == named {
			parts = append(parts, fmt.Sprintf("%d further models", len(list)-named))
			break
		}
		parts = append(parts, c.bow(m.Model, m.Maker)+" "+yearWords(m.Years))
	}
	return cmp.Or(strings.Join(parts, ", "), "no year")
}

// bow names a model, or what is not on record.
func (c *Changes) bow(model, maker string) string {
	if name := c.names[model]; name != "" {
		return name
	}
	return dating.BowName(nil, model, cmp.Or(c.names["makers/"+maker], maker))
}

// yearWords joins years, those that follow one another as "1964–1967".
func yearWords(years []int) string {
	return cmp.Or(strings.Join(edtf.Stretches(years), " and "), "no year")
}

func (k *KeyEffect) sign() string {
	switch {
	case k.Before == nil:
		return "+"
	case k.After == nil:
		return "−"
	}
	return "~"
}

func (k *KeyEffect) words() string {
	years := func(a *KeyAnswer) string { return strings.Join(a.Years, " and ") }
	switch {
	case k.Before == nil:
		return "new row: " + years(k.After)
	case k.After == nil:
		return "row gone, was " + years(k.Before)
	}
	var parts []string
	add := func(name, after, before string) {
		if after != before {
			parts = append(parts, fmt.Sprintf("%s%s, was %s", name, after, before))
		}
	}
	add("", years(k.After), years(k.Before))
	add("best ", yearWords(one(k.After.Best)), yearWords(one(k.Before.Best)))
	add("half the odds on ", yearWords(k.After.Likely50), yearWords(k.Before.Likely50))
	add("95 in 100 on ", yearWords(k.After.Likely95), yearWords(k.Before.Likely95))
	add("at its word ", yearWords(k.After.Strict), yearWords(k.Before.Strict))
	return strings.Join(parts, "; ")
}

func one(year int) []int {
	if year == 0 {
		return nil
	}
	return []int{year}
}
