// Package compare says what changed between two states of a reference: claims
// added, withdrawn and moved, sources and other records changed, findings
// gained and lost, which examples and which rows of the dating keys answer
// otherwise, and which published addresses would break.
//
// Claims are told apart by their published keys ("plover/padauk-riser"), other
// records by kind and identifier. A claim has moved where its years have, as
// written or as all the records together tighten them. An example or a row of
// a key has moved where the best year, the sets of 50 % or 95 %, or the years
// possible at its word are no longer the same. Findings are told apart by
// check, file and message, not by line.
//
// What is private is compared nowhere and shown nowhere.
//
// # The JSON
//
// [Changes] is written as it stands, in version 1. Lists are never null;
// "before" is null for what is new, "after" for what is gone. Years in lists
// are whole years, rising; years in words are as the site prints them.
//
//	{"version":1,"old":{"name","edition"},"new":{"name","edition"},
//	 "claims":{"added":[C],"withdrawn":[C],"moved":[C],"changed":[C]},
//	    C = {"claim","address","what","fields":[],"derived","because","before":S,"after":S}
//	    S = {"value","written","years","cites":[],"against":[],"settled","disputed","credence","note","held","only","except":[],"when"}
//	 "sources":[R],"records":[R],
//	    R = {"kind","id","title","address","how","fields":[{"field","before","after"}]}
//	 "findings":{"gained":[F],"lost":[F]},
//	    F = {"check","level","file","message"}
//	 "effect":{"examples":[{"example","title","address","observed","before":A,"after":A}],
//	           "keys":[{"model","feature","value","what","address","before":K,"after":K}]},
//	    A = {"best":{"model","year","chance"},"likely50":[Y],"likely95":[Y],"strict":[Y],"refused"}
//	    Y = {"model","years":[]}
//	    K = {"years":[],"best","likely50":[],"likely95":[],"strict":[]}
//	 "breaks":[{"address","message","help"}]}
package compare
