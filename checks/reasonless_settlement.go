package checks

import (
	"strings"

	"yearmark/schema"
)

var reasonlessSettlement = Check{
	Name: "reasonless-settlement", Family: Settling, Level: Error,
	Meaning: "A dispute was settled without saying why, so that the next editor cannot weigh the decision.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], against: ["bulletin-12, p. 3"], settled: {by: editor}}
→ riser wood "padauk" is settled without a reason`,
	Remedy: "Add because: and say in a sentence why the other side is not followed.",
	Run: func(p *Pass) {
		for d := range p.decisions {
			if d.Settled != nil && strings.TrimSpace(d.Settled.Because.Value) == "" {
				p.Report(Finding{Pos: d.Settled.Pos, Message: d.name + " is settled without a reason", Claims: claimsOf(d.claim),
					Remedies: []schema.Remedy{{Title: "Add the reason", Asks: whyNot, Edits: []schema.Edit{{Pos: d.base(), Keys: []string{"settled", "because"}, Said: true}}}}})
			}
		}
	},
}
