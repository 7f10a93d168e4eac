// English words whose forms no ending tells, and their bases: the same list as
// in Go's search/words/irregular.go.

const list = `
arisen rise, arose rise, ate eat, beaten beat, became become, began begin, begun begin, bent bend,
bitten bite, blew blow, blown blow, borne bear, bought buy, broke break, broken break, brought bring,
built build, burnt burn, came come, caught catch, children child, chose choose, chosen choose, clung cling,
crept creep, dealt deal, drank drink, drawn draw, drew draw, driven drive, drove drive, drunk drink, dug dig,
eaten eat, fallen fall, fed feed, feet foot, flew fly, flown fly, forgot forget, forgotten forget,
fought fight, found find, froze freeze, frozen freeze, gave give, geese goose, given give, gone go,
grew grow, grown grow, halves half, heard hear, held hold, hid hide, hidden hide, hung hang, kept keep,
knew know, knives knife, known know, lain lie, leant lean, led lead, lost lose, made make, meant mean,
men man, met meet, mice mouse, mistaken mistake, mistook mistake, paid pay, ran run, rang ring, risen rise,
rode ride, rung ring, said say, sang sing, sank sink, sat sit, seen see, sent send, shaken shake,
shelves shelf, shone shine, shook shake, shot shoot, shown show, shrank shrink, shrunk shrink, sold sell,
sought seek, spoke speak, spoken speak, spun spin, stole steal, stolen steal, stood stand, struck strike,
strung string, stuck stick, sung sing, sunk sink, swore swear, sworn swear, swung swing, taken take,
taught teach, teeth tooth, thieves thief, thought think, threw throw, thrown throw, told tell, took take,
tore tear, torn tear, understood understand, went go, wives wife, woke wake, woken wake, wolves wolf,
women woman, won win, worn wear, wove weave, woven weave, written write, wrote write
`;

/** The base of an irregular form. */
export const irregular = new Map(list.split(",").map((pair) => pair.trim().split(" ")));
