package plan

// NoPurpose is a load that matters for life and limb, of which the plan does not say when it
// is meant to work.
const NoPurpose = "no-purpose"

// purposeRules asks of ignition, starter, brake lamp and headlamp when they are meant to work:
// without it a bypassed kill switch or a starter that turns in gear breaks no rule.
func purposeRules(p *Plan, add adder) {
	for _, l := range p.Loads {
		switch l.GroupOf() {
		case Ignition, Start, Motor, Brake, Headlamp:
			if len(l.Works) == 0 {
				add(NoPurpose, l.Name, "nothing says when %s is meant to work, so nobody sees whether its switches do what they should: give it works = [...] (bellout plan words)", l.Name)
			}
		}
	}
}
