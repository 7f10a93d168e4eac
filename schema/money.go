package schema

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
)

// Sterling is the unit of amounts such as "£14 10s 6d".
const Sterling Unit = "GBP"

// IsCurrency says that a unit is a currency by its code in ISO 4217, also one
// that is money no more.
func (u Unit) IsCurrency() bool {
	if len(u) != 3 || strings.ToUpper(string(u)) != string(u) {
		return false
	}
	_, err := currency.ParseISO(string(u))
	return err == nil
}

// sterling is an amount of old or new British money: "£14 10s 6d", "£14.52",
// "10s 6d", "6d".
var sterling = regexp.MustCompile(`^(?:£ ?([0-9]{1,7}(?:\.[0-9]{2})?))?(?: ?\b([0-9]{1,2})s\.?)?(?: ?\b([0-9]{1,2})(½)?d\.?)?$`)

// pounds gives an amount of British money in pounds: a pound had 20 shillings
// of 12 pence each until 1971.
func pounds(text string) (amount float64, ok bool) {
	m := sterling.FindStringSubmatch(text)
	if m == nil || text == "" || strings.Contains(m[1], ".") && m[2]+m[3] != "" {
		return 0, false
	}
	of := func(part string) float64 {
		n, _ := strconv.ParseFloat(part, 64) // digits, or nothing, which is 0
		return n
	}
	shillings, pence := of(m[2]), of(m[3])
	if m[4] != "" {
		pence += .5
	}
	if m[1] != "" && shillings > 19 || (m[1] != "" || m[2] != "") && pence >= 12 {
		return 0, false
	}
	return of(m[1]) + (float64(shillings*12)+pence)/240, true
}

// money reads an amount that begins with its currency, "USD 240", or British money.
func money(text string) (amount float64, unit Unit, ok bool) {
	if v, is := pounds(text); is {
		return v, Sterling, true
	}
	code, figures, spaced := strings.Cut(text, " ")
	if !spaced || !Unit(code).IsCurrency() {
		return 0, "", false
	}
	v, ok := figure(strings.TrimSpace(figures))
	return v, Unit(code), ok
}

// unknownMoney refuses an amount whose sign stands for several currencies.
func unknownMoney(text, part string, offset int) error {
	for sign, codes := range map[string]string{"$": "USD, CAD or AUD", "¥": "JPY or CNY", "€": "EUR", "£": "GBP"} {
		if rest, found := strings.CutPrefix(part, sign); found {
			code, _, _ := strings.Cut(codes, ",")
			help := fmt.Sprintf("Write the currency's three capital letters (ISO 4217) before the figure: %s %s.", code, strings.TrimSpace(rest))
			if sign == "£" {
				help = "Write pounds, shillings and pence as in £14 10s 6d, or GBP and the figure."
			}
			return &Malformed{CheckMalformedFigure, text, offset, fmt.Sprintf("%q is not an amount of money", part), help, ""}
		}
	}
	return nil
}
