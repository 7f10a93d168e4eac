// Package secrets writes records for tests that hold a secret in every place
// that is private.
package secrets

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// Shown is the word that stands in every public place.
const Shown = "shown"

// Example draws the record of an example. Its public keys, remarks and prose
// hold Shown and its private ones the secret, each at least once.
func Example(secret string) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		w := &writer{t: t, secret: secret}
		front := w.block
		if rapid.IntRange(0, 9).Draw(t, "flow") == 0 {
			front = w.flow
		}
		text := "---\n" + front() + "---\n\nThe prose is shown.\n"
		if rapid.Bool().Draw(t, "crlf") {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		return rapid.SampledFrom([]string{"", "", "\ufeff"}).Draw(t, "mark") + text
	})
}

type writer struct {
	t      *rapid.T
	secret string
}

func (w *writer) pick(label string, from ...string) string {
	return strings.ReplaceAll(rapid.SampledFrom(from).Draw(w.t, label), "S", w.secret)
}

// block writes the keys one to a line: some, the private part, others.
func (w *writer) block() string {
	public := []string{
		"name: shown # shown\n",
		"by: \"shown: \\\n  # shown\"\n",
		"weight-mark: 'shown ''private: shown'\n",
		"observed: # shown\n  # shown\n  - {feature: riser-wood, value: padauk, note: \"private: shown\"}\n  - feature: limb-core\n    value: maple-core\n    note: >-\n      shown\n      private: shown\n\n      # shown\n",
		"condition: [{part: upper limb, # shown\n  state: shown}]\n",
	}
	at := rapid.IntRange(0, len(public)).Draw(w.t, "at")
	after := strings.Join(public[at:], "")
	return "record: example # shown\n" + strings.Join(public[:at], "") + w.above() + w.private() + w.below() + after
}

// above writes the remarks that stand directly above.
func (w *writer) above() string {
	return w.pick("above", "", "# S\n", "# S\n  # S\n", "# S\n\n", "\n# S\n", "# S\n  \n# S: S\n")
}

// below writes what may stand between the private part and the next key.
func (w *writer) below() string {
	var all strings.Builder
	for range rapid.IntRange(0, 4).Draw(w.t, "below") {
		all.WriteString(w.pick("line", "\n", "   \n", "# S\n", "  # S\n", "        # S\n", "#S: S\n", "# S: [S\n", "#\n"))
	}
	return all.String()
}

func (w *writer) private() string {
	switch rapid.IntRange(0, 5).Draw(w.t, "how") {
	case 0:
		return w.pick("commented", "# private: {owner: S}\n", "#private:\n#  owner: S\n", "# private:\n\n#   owner: S\n  # paid: S\n", "#  \"private\": S\n", "# Private: S\n# S\n", "# privat: S\n")
	case 1:
		return w.key() + w.pick("braces", "{owner: S, paid: \"S\"}\n", "{owner: 'S'} # S\n", "{ # S\n  owner: S, # S\n\n  S-key: \"S \\\n    S\" # S\n  }\n", "{owner: S\n    S, paid: S} # S: {S\n")
	}
	all := w.key() + w.pick("after the colon", "\n", "# S\n", "   # S\n") // a remark needs a blank before it, which the key has
	for i := range rapid.IntRange(1, 4).Draw(w.t, "entries") {
		all += w.pick("between", "", "", "\n", "   \n", "# S\n", "    # S\n", "\n  # S\n")
		all += strings.ReplaceAll(w.pick("entry", "  N: S\n", "  N: \"S\" # S\n", "  N: 'it''s S\n    S'\n", "  N: |\n    S\n\n    # S\n   \n    S\n", "  N: >- # S\n    S\n", "  N: S\n    S\n", "  \"S-N\": S\n", "  N: \"S\\\"S\\\n     S\"\n"), "N", fmt.Sprintf("key-%d", i))
	}
	return all
}

// key writes the key private in one of the ways in which YAML can.
func (w *writer) key() string {
	return w.pick("key", "private: ", "private: ", "private:  ", "\"private\": ", "'private' : ", "\"pr\\u0069vate\": ", "private : ")
}

// flow writes all keys in braces.
func (w *writer) flow() string {
	return w.pick("in braces",
		"{record: example, name: shown, # shown\n  # S\n  private: {owner: S}, by: shown, # S\n  weight-mark: shown}\n",
		"{record: example, # shown\n \"private\": {owner: S, # S\n  paid: \"S\" # S\n }, # S\n\n # S\n name: shown\n}\n",
		"{record: example, name: shown, private: {owner: S}} # S\n# S\n",
		"{record: example, # private: {owner: S},\n  # S\n  name: shown}\n")
}
