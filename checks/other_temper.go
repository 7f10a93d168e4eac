package checks

import "cmp"

var otherTemper = Check{
	Name: "other-temper", Family: Examples, Level: Note, needsDater: true,
	Meaning: "The register's own bows with a year on paper, each dated without itself, speak clearly for another temper than the one in use: the odds are surer, or less sure, than they should be.",
	Example: `years: 1930/1985
judgement: {temper: 0.95}
→ the dated bows speak clearly for a temper of 0.40`,
	Remedy: "Look at what yearmark trial says, and set judgement: {temper: …} in reference.yaml if you agree.",
	Run: func(p *Pass) {
		suggested := p.Dater.Temper()
		if suggested == 0 {
			return
		}
		settings := &p.Ref.Settings
		pos := settings.Judgement.Temper.Pos
		if pos.IsZero() {
			pos = settings.Years.Pos
		}
		p.Reportf(cmp.Or(pos, settings.Pos), "the dated bows speak clearly for a temper of %.2f", suggested)
	},
}
