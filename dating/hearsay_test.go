package dating_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
)

// TestHearsayNeitherTeachesNorIsTried documents one bow by what its seller
// said: the odds are those without it, and no trial is made of it.
func TestHearsayNeitherTeachesNorIsTried(t *testing.T) {
	const seller = "-- sources/seller.md --\n---\nrecord: source\nname: The seller\nkind: recollection\nissued: 1999\n---\n"
	said := strings.ReplaceAll(taughtFirst, `cites: ["list, p. 1"]`, "cites: [seller]")
	with := reference(t, recordsOf(t, teachingRecords+seller+said+taughtRest))
	question := dating.Question{Observed: []dating.Observation{{Feature: "wood", Values: []string{"x"}}}}
	got, err := engineOf(t, with).Date(question)
	if err != nil {
		t.Fatal(err)
	}
	without := reference(t, recordsOf(t, teachingRecords+taughtRest))
	want, err := engineOf(t, without).Date(question)
	if diff := cmp.Diff(want.Years, got.Years); err != nil || diff != "" {
		t.Errorf("%v (-without them +with them):\n%s", err, diff)
	}
	c, err := calibrate(t, with)
	if err != nil || len(c.Trials) != 1 || c.Trials[0].Example != "0003" || len(c.LeftOut) != 2 || !strings.Contains(c.LeftOut[1].Because, "recollection or the web alone") {
		t.Errorf("%v, tried %+v, left out %+v", err, c.Trials, c.LeftOut)
	}
}

// TestAnOwnersWorkIsNoEvidence dates a bow with a part that an owner replaced
// as the bow without a word of that part.
func TestAnOwnersWorkIsNoEvidence(t *testing.T) {
	replaced := strings.Replace(taughtFirst, "{feature: wood, value: x}, {feature: weight", "{feature: wood, value: y, original: false}, {feature: weight", 1)
	silent := strings.Replace(taughtFirst, "{feature: wood, value: x}, {feature: weight", "{feature: weight", 1)
	if replaced == taughtFirst || silent == taughtFirst {
		t.Fatal("nothing was changed")
	}
	var answers []*dating.Account
	for _, records := range []string{replaced, silent} {
		ref := reference(t, recordsOf(t, teachingRecords+records+taughtRest))
		ex, _ := ref.Examples.Get("0001")
		answer, err := dating.NewLeaveOneOut(engineOf(t, ref), chronology.Build(ref), provenance.Weigh(ref)).Account(ex)
		if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, answer)
	}
	if diff := cmp.Diff(answers[1].Years, answers[0].Years); diff != "" {
		t.Errorf("(-silent +replaced):\n%s", diff)
	}
}
