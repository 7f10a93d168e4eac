package made

import (
	"math/rand/v2"
	"strings"
)

// What names are made from. Together they give more different words than a
// hundred thousand records need, as names in real registers do.
var (
	heads = strings.Fields("Aik Arn Bleth Brath Cald Corn Crag Dov Eln Fen Garth Grim Hag Hest Ing Kel Kest Lang Lon Marr Meth Nat Ober Penn Quer Rav Rid Scar Sel Stang Tarn Thorn Ulf Ves Wath Whin Yar Yew Brig Hol")
	tails = strings.Fields("beck bield by combe dale fell force garth gill holme howe keld ley mere ness pike rigg scale scar side slack stead sty thwaite tarn ton wath wick with wood")
	mids  = strings.Fields("a en er le in ol um ar es ock et and or is")
	given = strings.Fields("Ada Alec Amos Beth Cyril Dora Edwin Elsie Enid Fred Gwen Hal Ivy Jabez Joan Kit Lena Mabel Ned Nora Olive Percy Ruth Seth Tess Una Wilf Zena")
	birds = strings.Fields("heron lapwing siskin merlin ouzel redstart curlew dabchick wagtail fieldfare brambling goosander wheatear stonechat pipit linnet")
)

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }

// place is an invented village.
func place(r *rand.Rand) string {
	if r.IntN(2) == 0 {
		return pick(r, heads) + pick(r, tails)
	}
	return pick(r, heads) + pick(r, mids) + pick(r, tails)
}

// person is an invented name.
func person(r *rand.Rand) string {
	return pick(r, given) + " " + pick(r, heads) + pick(r, mids) + pick(r, []string{"ing", "er", "ett", "man", "son", "low", "ard"})
}

// bow is the name of a model.
func bow(r *rand.Rand) string {
	if r.IntN(2) == 0 {
		return pick(r, heads) + " " + title(pick(r, birds))
	}
	return place(r)
}

func slug(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "-") }

// Sentences of which the prose is made; a capital letter stands for a name.
var sentences = []string{
	"P of the shop at V said of it that the limbs came off the form before breakfast and were never better for waiting.",
	"The timber was bought standing from V and lay two winters in the yard.",
	"Members at V have three between them, all of them mended at the upper tip.",
	"A shop at V sold it under the name of B, and the labels still turn up.",
	"It was thought a heavy bow for its length, and P had the handle filled out with cork.",
	"The finish crazes along the fades; it does no harm but looks like damage, and buyers from V have paid less for it than they should.",
	"Letters to P mention a batch glued with the wrong resin, and the firm took them back without argument.",
	"Nothing of the kind was made again at V, though P tried.",
	"The colour in the catalogue is the printer's and not the bow's.",
	"What the travellers carried was a sample and differs in the grip.",
	"Its string has always been a guess: the one sold by the shop at V was too short by an inch.",
	"The sight screws are a later fancy of a club at V and tell nothing about the year.",
	"P kept the jig, and with it the habit of rounding the shelf.",
	"Most were sold to schools, and most of those were broken.",
	"Never string or draw one before a bowyer has looked at it.",
	"The riser was roughed out on a copying lathe brought from a pick-handle works at V.",
	"A dealer at V relabelled a dozen as B, which has confused everybody since.",
	"Some were drilled afterwards, not always straight.",
}

// prose makes a paragraph of n sentences.
func prose(r *rand.Rand, n int) string {
	var b strings.Builder
	for i := range n {
		if i > 0 {
			b.WriteByte(' ')
		}
		for _, c := range pick(r, sentences) {
			switch c {
			case 'P':
				b.WriteString(person(r))
			case 'V':
				b.WriteString(place(r))
			case 'B':
				b.WriteString(bow(r))
			default:
				b.WriteRune(c)
			}
		}
	}
	return b.String()
}
