package checks

import "strings"

// The namespaces of a drawing.
const (
	svgSpace   = "http://www.w3.org/2000/svg"
	xlinkSpace = "http://www.w3.org/1999/xlink"
	xmlSpace   = "http://www.w3.org/XML/1998/namespace"
)

// editorSpaces begin the namespaces in which drawing programs keep notes to
// themselves. Browsers draw and run nothing of them.
var editorSpaces = []string{
	"http://www.inkscape.org/", "http://sodipodi.sourceforge.net/", "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
	"http://purl.org/dc/", "http://creativecommons.org/ns#", "http://web.resource.org/cc/", "http://ns.adobe.com/",
	"http://www.openswatchbook.org/", "http://www.serif.com/", "http://www.bohemiancoding.com/", "http://www.figma.com/",
	"http://vectornator.io", "https://boxy-svg.com", "http://www.corel.com/", "http://svgjs.",
}

func isEditorSpace(space string) bool {
	for _, known := range editorSpaces {
		if strings.HasPrefix(space, known) {
			return true
		}
	}
	return false
}

func setOf(lists ...string) map[string]bool {
	set := map[string]bool{}
	for _, list := range lists {
		for name := range strings.FieldsSeq(list) {
			set[name] = true
		}
	}
	return set
}

// svgElements are the elements of SVG 1.1 and 2 that draw and arrange. None of
// them runs, loads, animates, embeds or leads anywhere; of the filters those
// are here whose cost does not grow with their figures.
var svgElements = setOf(`svg g defs symbol use title desc metadata style switch
	path rect circle ellipse line polyline polygon text tspan textPath
	linearGradient radialGradient stop pattern clipPath mask marker filter`, filterPrimitives)

const filterPrimitives = `feBlend feColorMatrix feComponentTransfer feComposite feDropShadow feFlood
	feFuncA feFuncB feFuncG feFuncR feGaussianBlur feMerge feMergeNode feOffset`

// svgAttributes are the attributes of those elements, beside the properties
// below. The value of none is taken for an address.
var svgAttributes = setOf(`id class style lang role version baseProfile viewBox preserveAspectRatio zoomAndPan
	x y width height rx ry r cx cy fx fy fr x1 y1 x2 y2 dx dy d points pathLength offset transform
	rotate textLength lengthAdjust startOffset method spacing side
	gradientUnits gradientTransform spreadMethod patternUnits patternContentUnits patternTransform
	clipPathUnits maskUnits maskContentUnits markerUnits markerWidth markerHeight orient refX refY
	filterUnits primitiveUnits filterRes in in2 result stdDeviation mode type values operator
	k1 k2 k3 k4 tableValues slope intercept amplitude exponent
	media contentStyleType contentScriptType systemLanguage requiredFeatures requiredExtensions tabindex focusable`)

// svgProperties are the CSS properties that a style, a style sheet or an
// attribute of the same name may set. What begins with "-inkscape-" is a note.
var svgProperties = setOf(`alignment-baseline baseline-shift block-progression clip clip-path clip-rule color color-interpolation
	color-interpolation-filters color-rendering cursor direction display dominant-baseline enable-background
	fill fill-opacity fill-rule filter flood-color flood-opacity
	font font-family font-feature-settings font-kerning font-size font-size-adjust font-stretch font-style
	font-variant font-variant-alternates font-variant-caps font-variant-east-asian font-variant-ligatures
	font-variant-numeric font-variant-position font-variation-settings font-weight
	glyph-orientation-horizontal glyph-orientation-vertical image-rendering inline-size isolation kerning
	letter-spacing lighting-color line-height marker marker-end marker-mid marker-start mask mask-type
	mix-blend-mode opacity overflow paint-order pointer-events shape-inside shape-margin shape-padding shape-rendering
	solid-color solid-opacity stop-color stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap
	stroke-linejoin stroke-miterlimit stroke-opacity stroke-width text-align text-anchor text-decoration
	text-decoration-color text-decoration-line text-decoration-style text-indent text-orientation text-rendering
	text-transform transform transform-box transform-origin unicode-bidi vector-effect visibility white-space
	word-spacing writing-mode x y width height cx cy r rx ry d`)

// svgFunctions are the functions of CSS that a value may call, beside url.
var svgFunctions = setOf(`rgb rgba hsl hsla rect matrix translate translatex translatey scale scalex scaley rotate skewx skewy`)

// svgStates are the pseudo-classes that a selector may hold.
var svgStates = setOf(`root first-child last-child first-of-type last-of-type hover focus`)
