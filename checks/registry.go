package checks

import (
	"slices"

	"yearmark/schema"
)

// registry lists every check, family by family. A new check is a file of its
// name and a row here.
var registry = []Check{
	// Reading: what the reader could not read as a record should be.
	unreadable, noFrontMatter, notUTF8, oddCharacters, tooLarge, tooDeep, alias,
	outsideFolder, strayFile, nestedFolder, badIdentifier, wrongFolder, unknownKind,
	unknownKey, misplacedKey, missingKey, repeatedKey, wrongType, unknownValue, outOfBounds,
	malformedCitation, badPattern, malformedPlace, malformedTranscript, badAddress, duplicate, dangling, checkUnfinished,

	uncitedClaim, uncitedStatement, placeMissing, sourceTooEarly, dateAhead, reliesOnLater, oneOrigin,
	sourceRing, recollectionOnly, unseenSource, uncitedSource, uncitedCue, unnamedSpeaker, noKeptCopy, unlistedPlace, placelessCitation, placeTwice, wordsAgainst,

	malformedSpan, noYears, twoSpans, outerBounds, outsideHorizon, outsideMade, idleException, chainedCondition, muteFeature, eraOverlap, eraGap, unaccountedYears,

	impossibleYears, twoValues, spansDisagree, onlyBroken, twoRanges, sharedNumber,

	unsettledDispute, openDispute, settledAndDisputed, reasonlessSettlement, idleSettlement, idleDispute,

	malformedFigure, reversedRange, unknownUnit, wrongUnit, implausibleFigure,

	impossibleExample, unreadableStamp, documentedHearsay, documentedOutside, documentedUnlikely, otherTemper, unreviewedExample, seenAfterAll,

	bareYear, deadLink, unsafeAddress, pastedMarkup, quotedName, tellingRemark,

	missingPicture, twinPicture, outsidePicture, wordlessPicture, unreadablePicture, unsafePicture, locatedPicture, unusedPicture, regionOutside, keptBackPicture,

	missingRecording, unreadableRecording, spelledTime, beyondRecording, unmeasuredRecording, unkeptRecording,
}

// Registry gives every check, family by family, in a list of the caller's own.
func Registry() []Check { return slices.Clone(registry) }

// Lookup finds a check by its name. Where there is none, nearest is the name
// that was most likely meant, or empty.
func Lookup(name string) (c Check, nearest string, ok bool) {
	names := make([]string, len(registry))
	for i, c := range registry {
		if c.Name == name {
			return c, name, true
		}
		names[i] = c.Name
	}
	nearest, _ = schema.Nearest(name, names)
	return Check{}, nearest, false
}

// losesRecord says whether a reading problem may mean that something written
// in the records is unknown to the other checks.
func losesRecord(check string) bool {
	switch check {
	case schema.CheckUnreadable, schema.CheckNoFrontMatter, schema.CheckNotUTF8, schema.CheckTooLarge, schema.CheckTooDeep,
		schema.CheckAlias, schema.CheckOutsideFolder, schema.CheckNestedFolder, schema.CheckBadIdentifier,
		schema.CheckWrongFolder, schema.CheckUnknownKind, schema.CheckRepeatedKey, schema.CheckWrongType, schema.CheckUnknownKey,
		schema.CheckOddCharacters, schema.CheckMalformedCite:
		return true
	}
	return false
}
