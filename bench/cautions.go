package bench

import "slices"

// Caution is one thing to know before an old bow is strung, drawn or shot.
type Caution struct {
	Text   string
	Source string
}

// NotCertified stands on every sheet.
const NotCertified = "Nothing on this sheet certifies the bow as safe. Ask a bowyer before it is strung, keep to the range's rules and to local law."

// Cautions lists the usual cautions.
func Cautions() []Caution {
	return []Caution{
		{"Have an old bow looked at by a bowyer before it is strung for the first time.", NoSource},
		{"Never let go of the string without an arrow on it.", "care pages of clubs, suppliers and bowyers"},
		{"Never draw it past the draw it was made for, and never draw it fast.", "a historic bow maker's care page"},
		{"String it with a bow stringer, not over the knee or the foot.", "care pages of clubs and suppliers"},
		{"Keep it away from heat, unstrung, and do not stand it on end.", "care pages of clubs and suppliers"},
		{"Wear eye protection, and let nobody stand beside the limbs.", NoSource},
	}
}

// Fault is something wrong with a bow for which it is not to be strung.
type Fault struct {
	ID    string // as a record's condition names it
	Asked string // as the form asks for it, after "is one of these on the bow?"
}

// Faults lists the faults that are asked for before any figure is shown.
func Faults() []Fault {
	return []Fault{
		{"crack", "a crack, in wood or in glass"},
		{"lifting", "an overlay or an edge that lifts"},
		{"delamination", "layers coming apart"},
		{"twist", "a twisted limb"},
		{"loose", "a joint, a bolt or a handle that moves"},
	}
}

// Dangerous says that a bow with a fault of that kind is not to be strung.
func Dangerous(kind string) bool {
	return slices.ContainsFunc(Faults(), func(f Fault) bool { return f.ID == kind })
}

// Unsafe says that one of a bow's kinds of fault keeps it from being strung.
func Unsafe(kinds []string) bool { return slices.ContainsFunc(kinds, Dangerous) }

// WithFault stands in the place of all figures where a fault was found.
const WithFault = "Do not string this bow. With such a fault it can break in your hands and hurt you or others. Take it to a bowyer; no figures are shown for it."

// Inspection lists what to look at, part by part, before stringing.
func Inspection() []Caution {
	const club = "equipment inspection guidelines of a re-enactment society"
	return []Caution{
		{"A crack across a limb: do not string the bow.", club},
		{"A lengthwise crack in the glass: mark its ends and watch it; if it passes through wood and glass, do not string the bow.", club},
		{"Layers coming apart anywhere along the limbs: do not string the bow.", "a supplier's care page"},
		{"Twist: sight down the string. If it leaves the groove, stop.", club},
		{"Tips and their overlays: tight, no lifting edges.", NoSource},
		{"String grooves: no sharp edges, not worn through.", NoSource},
		{"The handle: no cracks, no movement at the glue lines.", club},
	}
}

// StringMaterial says what an old bow's string is made of, and why.
func StringMaterial() []Caution {
	return []Caution{
		{"Use a polyester string: its stretch spares the bow.", "an archery page that repeats an encyclopaedia article"},
		{"Never use a low-stretch string on a bow that was not built for it.", "a bowyer's care page and two others"},
		{"Use no fewer strands than the trade's standard gives for the draw weight.", "a bowyer's care page"},
	}
}
