package checks

var malformedPlace = Check{
	Name: "malformed-place", Family: Reading, Level: Error,
	Meaning: "A time of a recording or a region of a scan cannot be read, or the region has no width, no height or ends beyond the scan.",
	Example: `{at: p. 2, says: "Risers of padauk", scan: scans/p2.svg, region: "xywh=percent:60,41,90,53"}
→ the region "xywh=percent:60,41,90,53" ends beyond 100 per cent`,
	Remedy: "Write a time as in 12:34 or 1:02:03, a region as left, top, width and height: xywh=percent:8,41,46,12.",
	Run:    reportProblems,
}
