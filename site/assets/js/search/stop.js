// Words of grammar, which are not searched for: the same list as in Go's
// search/words/stop.go, which a test compares.

const list = `
i me my myself we our ours ourselves you your yours yourself yourselves he him his himself she her hers
herself it its itself they them their theirs themselves what which who whom this that these those am is are was
were be been being have has had having do does did doing would should could ought im youre hes shes theyre ive
youve weve theyve youd theyd youll theyll isnt arent wasnt werent hasnt havent hadnt doesnt dont didnt wont
wouldnt shant shouldnt cant cannot couldnt mustnt lets thats whos whats heres theres whens wheres whys hows a an
the and but if or because as until while of at by for with about against between into through during before
after above below to from up down in out on off over under again further then once here there when where why how
all any both each few more most other some such no nor not only own same so than too very
`;

/** The words of grammar, folded. */
export const stops = new Set(list.trim().split(/\s+/));
