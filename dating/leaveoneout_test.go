package dating

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/made"
	"yearmark/testdata/need"
)

// alike holds two answers to one question against each other: figures within
// rounding, all else exactly.
var alike = cmp.Options{
	cmpopts.EquateApprox(0, 1e-12), cmpopts.EquateEmpty(), cmpopts.IgnoreUnexported(Answer{}),
	cmp.Comparer(func(a, b *schema.Claim) bool { return a == b }),
}

// sameApart dates every example apart, and by an engine made from nothing of
// all that does not rest on it, and says how many answers differ from those
// with everything left in. How the models' records name each other decides
// nothing: an example is dated both as its model and as any.
func sameApart(t *testing.T, ref *schema.Reference) (differ int) {
	t.Helper()
	times, weights := chronology.Build(ref), provenance.Weigh(ref)
	whole := New(ref, times, weights)
	apart := NewLeaveOneOut(whole, times, weights)
	for _, ex := range ref.Examples.All() {
		anyModel := *ex
		anyModel.Model, anyModel.Documented = schema.Text{}, nil
		for _, ex := range []*schema.Example{ex, &anyModel} {
			got, err := apart.engineFor(ex, apart.dependsOn(ex)).Date(QuestionOf(ref, ex))
			if err != nil {
				t.Fatalf("example %s apart: %v", ex.ID, err)
			}
			skip := knownBy(ref, ex, relying(ref)).skips
			full := build(inputs{
				ref: ref, times: chronology.BuildWithout(ref, skip), weights: provenance.WeighWithout(ref, skip),
				bows: hypothesesOf(ref), skip: skip, teachers: teachers(ref), dated: ex,
			})
			want, err := full.Date(QuestionOf(ref, ex))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, got, alike); diff != "" {
				t.Fatalf("example %s as model %q (-made from nothing +apart):\n%s", ex.ID, ex.Model.Value, diff)
			}
			brief, err := apart.Brief(ex)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(briefOf(want), brief, alike); diff != "" {
				t.Fatalf("example %s as model %q (-in full +in brief):\n%s", ex.ID, ex.Model.Value, diff)
			}
			account, err := apart.Account(ex)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(accountOf(want), account, alike); diff != "" {
				t.Fatalf("example %s as model %q (-in full +as its page tells it):\n%s", ex.ID, ex.Model.Value, diff)
			}
			with, err := whole.Date(QuestionOf(ref, ex))
			if err != nil {
				t.Fatal(err)
			}
			if !cmp.Equal(with.Odds, got.Odds, alike) {
				differ++
				if apart.dependsOn(ex) == nil && !apart.teachesItself(ex) {
					t.Errorf("example %s: nothing rests on it, and yet its answer differs", ex.ID)
				}
			}
		}
	}
	return differ
}

// briefOf leaves the reasons out of an answer.
func briefOf(a *Answer) *Brief {
	return &Brief{
		Observed: len(a.Observed), Impossible: a.Impossible, Best: a.Best,
		Likely50: a.Likely50, Likely95: a.Likely95, Strict: a.Strict,
	}
}

// accountOf leaves out of an answer what a page does not tell.
func accountOf(a *Answer) *Account {
	return &Account{Brief: *briefOf(a), Models: a.Models, Years: a.Years, Evidence: a.Evidence}
}

// exactly holds two answers against each other to the last bit.
var exactly = cmp.Options{
	cmpopts.EquateEmpty(), cmpopts.IgnoreUnexported(Answer{}),
	cmp.Comparer(func(a, b *schema.Claim) bool { return a == b }),
}

// TestModelsAreDatedAloneAsAmongAll: whether the engine of all models is there
// or one is made of the example's model changes no bit of an answer, so that
// the page of an example is the same whatever was asked for before it.
func TestModelsAreDatedAloneAsAmongAll(t *testing.T) {
	ref, _, err := schema.Read(need.Root(t) + "/content")
	if err != nil {
		t.Fatal(err)
	}
	times, weights := chronology.Build(ref), provenance.Weigh(ref)
	among := NewLeaveOneOut(New(ref, times, weights), times, weights)
	alone := LeaveOneOutOf(ref, times, weights, func() *Engine {
		t.Error("the engine of all models was asked for")
		return New(ref, times, weights)
	})
	dated := 0
	for _, ex := range ref.Examples.All() {
		if _, known := ref.Models.Get(ex.Model.Value); !known {
			continue
		}
		dated++
		want, err := among.Account(ex)
		if err != nil {
			t.Fatal(err)
		}
		got, err := alone.Account(ex)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, exactly); diff != "" {
			t.Errorf("example %s (-among all +alone):\n%s", ex.ID, diff)
		}
	}
	if dated < 17 {
		t.Errorf("only %d examples were dated", dated)
	}
}

// TestWhatIsTakenOffIsCountedAnew: the engine that takes an example off what all of
// its model teach is the one that counts the others anew, to the last bit.
func TestWhatIsTakenOffIsCountedAnew(t *testing.T) {
	shown, _, err := schema.Read(need.Root(t) + "/content")
	if err != nil {
		t.Fatal(err)
	}
	invented, _, err := schema.ReadFS(made.FS(made.Options{Pages: 800, Seed: 1}), "made")
	if err != nil {
		t.Fatal(err)
	}
	shared, tied := 0, 0
	for _, ref := range []*schema.Reference{shown, invented} {
		times, weights := chronology.Build(ref), provenance.Weigh(ref)
		a := NewLeaveOneOut(New(ref, times, weights), times, weights)
		taught := map[string]*lessons{}
		for _, ex := range ref.Examples.All() {
			if _, known := ref.Models.Get(ex.Model.Value); !known || !a.teachesItself(ex) {
				continue
			}
			if taught[ex.Model.Value] == nil {
				taught[ex.Model.Value] = &lessons{}
			} else {
				shared++
			}
			want, got := a.engineWith(ex, nil, nil, nil).table, a.engineWith(ex, nil, nil, taught[ex.Model.Value]).table
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("example %s (-counted anew +taken off):\n%s", ex.ID, diff)
			}
			tied += len(got.Dependences)
		}
	}
	if shared < 20 || tied == 0 {
		t.Errorf("only %d examples shared what was counted, %d features were tied", shared, tied)
	}
}

// TestAnExampleDoesNotDateItself dates every example of the demonstration with
// and without what rests on it: some answers must differ, namely only those of
// examples that something rests on.
func TestAnExampleDoesNotDateItself(t *testing.T) {
	ref, _, err := schema.Read(need.Root(t) + "/content")
	if err != nil {
		t.Fatal(err)
	}
	if sameApart(t, ref) == 0 {
		t.Error("leaving out what rests on an example changed no answer")
	}
}

// TestApartInAnyReference does the same in references made up at random, whose
// claims, made spans, attestations, orders and sources rest on examples and on
// the papers of examples in every way.
func TestApartInAnyReference(t *testing.T) {
	differ := 0
	for seed := range uint64(40) {
		differ += sameApart(t, leaningAtRandom(t, rand.New(rand.NewPCG(seed, 7))))
	}
	if differ < 40 {
		t.Errorf("leaving out what rests on an example changed only %d answers", differ)
	}
}

func leaningAtRandom(t *testing.T, r *rand.Rand) *schema.Reference {
	folder := fstest.MapFS{}
	put := func(name, text string) {
		folder[name] = &fstest.MapFile{Data: []byte("---\nrecord: " + text + "\n---\n")}
	}
	folder["reference.yaml"] = &fstest.MapFile{Data: []byte("name: Leaning\nyears: 1930/1985\n")}
	put("makers/works.md", "maker\nname: Works\ntrading: {span: 1945/1975, cites: [ledger]}")
	for m := range 3 {
		put(fmt.Sprintf("makers/other-%d.md", m), "maker\nname: Other")
	}
	put("sources/ledger.md", "source\nname: Ledger\nkind: factory-paper")
	put("sources/copy.md", "source\nname: Copy\nkind: article\nrelies-on: [example-1]")
	put("sources/digest.md", "source\nname: Digest\nkind: book\nrelies-on: [copy, receipts]")
	put("sources/receipts.md", "source\nname: Receipts\nkind: letter")
	put("sources/entries.md", "source\nname: Entries\nkind: factory-paper\nseparate-places: true")
	put("sources/notes.md", "source\nname: Notes\nkind: article\nrelies-on: [receipts]\nplaces: [{at: p. 1}, {at: p. 2, own: true}, {at: p. 3, relies-on: [ledger]}]")
	put("features/wood.md", "feature\nname: Wood\nkind: choice\nvalues: [{id: ash}, {id: elm}, {id: yew}]")
	put("features/socket.md", "feature\nname: Socket\nkind: presence\naltered: {to: [present], chance: 0.1}")
	put("features/weight.md", "feature\nname: Weight\nkind: number\nunit: lb")
	put("features/serial.md", "feature\nname: Serial\nkind: text")
	for m := range 5 {
		put(fmt.Sprintf("models/m%d.md", m), leaningModel(r, m))
	}
	for i := range 4 {
		put(fmt.Sprintf("examples/%d.md", i), fmt.Sprintf("example\nmodel: m%d\ndocumented: {span: %d, cites: [%q]}\nobserved: [{feature: wood, value: %s}, {feature: weight, value: %d lb}, {feature: serial, value: N%d}]",
			r.IntN(5), 1950+r.IntN(10), []string{"receipts", "receipts, sheet 1", "entries, p. 4", "entries, p. 5"}[r.IntN(4)], []string{"ash", "elm"}[r.IntN(2)], 30+r.IntN(2), r.IntN(3)))
	}
	ref, problems, err := schema.ReadFS(folder, "leaning")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		if !strings.Contains(p.Message, "no plausible figures") { // the outcomes are then what claims say
			t.Fatal(p.Pos, p.Message)
		}
	}
	return ref
}

func leaningModel(r *rand.Rand, m int) string {
	cites := func() string {
		list := []string{"example-0", "example-1, grip", "example-2", "copy", "digest", "receipts", "receipts, sheet 1", "entries, p. 4", "entries, p. 6", "notes, p. 1", "notes, p. 2", "notes, p. 3"}
		for range 12 {
			list = append(list, "ledger, p. 1")
		}
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		return `"` + strings.Join(list[:1+r.IntN(2)], `", "`) + `"`
	}
	var b strings.Builder
	first := 1948 + r.IntN(4)
	fmt.Fprintf(&b, "model\nname: M%d\nmaker: %s\nmade: {span: %d/%d, cites: [%s]}\nfeatures:\n", m, []string{"works", "works", "other-0", "other-1", "other-2"}[m], first, first+9, cites())
	for i, value := range []string{"ash", "elm", "yew"} {
		fmt.Fprintf(&b, "  - {id: w%d, feature: wood, value: %s, span: %d/%d, cites: [%s], against: [%s]}\n", i, value, first+3*i, first+2+3*i, cites(), cites())
	}
	fmt.Fprintf(&b, "  - {id: s, feature: socket, value: present, attested: [{year: %d, cites: [%s]}, {year: %d, cites: [%s]}]}\n", first+r.IntN(9), cites(), first+r.IntN(9), cites())
	fmt.Fprintf(&b, "  - {feature: serial, value: \"N%d\", span: %d/%d, cites: [%s]}\nspecs:\n", r.IntN(4), first, first+5, cites())
	fmt.Fprintf(&b, "  - {spec: weight, range: %d..%d lb, span: %d/%d, cites: [%s]}\n", 28-r.IntN(5), 32+r.IntN(5), first, first+9, cites())
	fmt.Fprintf(&b, "order:\n  - {first: w0, how: before, second: s, cites: [%s]}", cites())
	return b.String()
}

// TestWhatIsLeftOutByDocument: the whole source that documents a bow, and what
// relies on it, counts for nothing while the bow is dated; an entry of a source
// whose places are separate stands for itself.
func TestWhatIsLeftOutByDocument(t *testing.T) {
	ref := leaningAtRandom(t, rand.New(rand.NewPCG(1, 7)))
	documented := func(cite string) *leftOut {
		source, place, _ := strings.Cut(cite, ", ")
		ex := &schema.Example{Head: schema.Head{ID: "9"}, Documented: &schema.Documented{Cites: []schema.Citation{{Source: source, Place: place}}}}
		return knownBy(ref, ex, relying(ref))
	}
	for _, c := range []struct {
		document, cite string
		out            bool
	}{
		{"receipts, sheet 1", "receipts, sheet 2", true}, {"receipts", "receipts, sheet 2", true}, {"receipts, sheet 1", "receipts", true},
		{"receipts, sheet 1", "digest, p. 4", true}, // relies on them, beside another
		{"receipts, sheet 1", "copy", false}, {"receipts, sheet 1", "entries, p. 4", false},
		{"receipts, sheet 1", "notes, p. 1", true}, {"receipts, sheet 1", "notes", true},
		{"receipts, sheet 1", "notes, p. 2", false}, // seen by the writer
		{"ledger, p. 12", "ledger", true}, {"ledger, p. 12", "notes, p. 3", true}, {"ledger, p. 12", "notes, p. 1", false},
		{"entries, p. 4", "entries, p4", true}, {"entries, p. 4", "entries, pp. 3-5", true}, {"entries, p. 4", "entries", true},
		{"entries, p. 4", "entries, p. 5", false}, {"receipts", "example-9, grip", true}, {"receipts", "example-8", false},
	} {
		source, place, _ := strings.Cut(c.cite, ", ")
		if got := documented(c.document).skips(schema.Citation{Source: source, Place: place}); got != c.out {
			t.Errorf("documented by %q, %q is left out: %v, want %v", c.document, c.cite, got, c.out)
		}
	}
}
