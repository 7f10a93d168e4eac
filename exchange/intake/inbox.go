package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"yearmark/dating"
	"yearmark/exchange/editing"
	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/schema/english"
)

// Inbox takes in submissions for one reference. What it makes of them is kept
// in memory until [Inbox.Changes] is written. It is not safe for concurrent use.
type Inbox struct {
	ref     *schema.Reference
	engine  *dating.Engine
	today   time.Time
	taken   func(file string) bool // whether a file is there, be it no readable record
	bows    *bowIndex              // the examples, and what was taken in since
	filed   map[string]*schema.Example
	changes map[string]journal.Change
	next    int // the number that the next example gets
	width   int // digits of an example's number
}

// NewInbox makes an inbox for a reference and its engine. Submissions from after
// today are refused. taken says whether a path below the reference's folder is
// that of a file.
func NewInbox(ref *schema.Reference, engine *dating.Engine, today time.Time, taken func(file string) bool) *Inbox {
	in := &Inbox{
		ref: ref, engine: engine, today: today, taken: taken, bows: newBowIndex(ref), next: 1, width: 4,
		filed: map[string]*schema.Example{}, changes: map[string]journal.Change{},
	}
	for _, e := range ref.Examples.All() {
		if e.Submitted != nil && e.Submitted.Sum.Value != "" {
			in.filed[e.Submitted.Sum.Value] = e
		}
		if n, err := strconv.Atoi(e.ID); err == nil && n >= in.next {
			in.next, in.width = n+1, max(in.width, len(e.ID))
		}
		in.bows.add(bowOf(e))
	}
	return in
}

// Receipt is what the inbox makes of a submission.
type Receipt struct {
	Submission *Submission
	Answer     *dating.Answer
	Alike      []Alike // bows on record that it may be, likeliest first
	ID         string  // the example that it becomes, or has become before
	// Before says that the same submission was filed before. Adds names what it
	// says now and did not then, which goes into the same record.
	Before bool
	Adds   []string
	Record []byte // the example's record as it becomes
}

// File is the path of the record below the reference's folder.
func (r *Receipt) File() string { return schema.KindExample.FileOf(r.ID) }

// Changes gives what was taken in as changes of the reference's folder, by file.
func (in *Inbox) Changes() []journal.Change {
	var list []journal.Change
	for _, file := range slices.Sorted(maps.Keys(in.changes)) {
		list = append(list, in.changes[file])
	}
	return list
}

// Take reads a submission, holds it against the reference, dates it, looks for
// bows on record that it may be, and makes the record of it. The error is a
// Problems.
func (in *Inbox) Take(data []byte) (*Receipt, error) {
	s, err := Read(data)
	if err != nil {
		return nil, err
	}
	answer, problems := in.dated(s)
	if len(problems) > 0 {
		return nil, problems
	}
	r := &Receipt{Submission: s, Answer: answer}
	if e := in.filed[s.sum()]; e != nil {
		r.ID, r.Before = e.ID, true
		problems = in.amend(r, e)
	} else {
		r.Alike = in.bows.alike(bowOfSubmission(s))
		problems = in.add(r)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return r, nil
}

// add makes a new example's record, under the next number that is free.
func (in *Inbox) add(r *Receipt) Problems {
	for r.ID = in.number(); in.taken(r.File()); r.ID = in.number() {
		in.next++
	}
	record := r.Submission.record(r.Submission.sum(), r.Alike)
	e, problems := in.readBack(r, record)
	if len(problems) > 0 {
		return problems
	}
	r.Record = record
	in.changes[r.File()] = journal.Change{File: r.File(), After: record}
	in.filed[r.Submission.sum()] = e
	b := bowOfSubmission(r.Submission)
	b.id, b.name = r.ID, "Example "+r.ID
	in.bows.add(b)
	in.next++
	return nil
}

func (in *Inbox) number() string { return fmt.Sprintf("%0*d", in.width, in.next) }

// amend puts what a submission says under private, and said otherwise when it
// was filed, beside what the record says: "contact-2" below "contact".
func (in *Inbox) amend(r *Receipt, e *schema.Example) Problems {
	c, ok := in.changes[r.File()]
	if !ok {
		c = journal.Change{File: r.File(), Before: e.Source, After: e.Source}
	}
	var edits []editing.Edit
	for _, p := range r.Submission.privately() {
		said := func(k schema.PrivateKey) bool { return k.Value.Value == p.value }
		if p.value != "" && !slices.ContainsFunc(e.Private, said) {
			r.Adds = append(r.Adds, p.key)
			edits = append(edits, editing.Edit{Keys: []string{"private", freeKey(e.Private, p.key)}, New: editing.Quoted(p.value)})
		}
	}
	r.Record = c.After
	if len(edits) == 0 {
		return nil
	}
	help := "Mend the record, then receive the submission again."
	file, err := editing.Open(c.File, c.After)
	if err == nil {
		err = file.Change(nil, nil, edits)
	}
	if err == nil {
		c.After, err = file.Bytes()
	}
	if err != nil {
		return whole(fmt.Sprintf("it was filed as %s before, and what is new cannot be added there: %v", c.File, err), help)
	}
	read, problems := schema.ReadRecord(c.File, c.After)
	if now, ok := read.(*schema.Example); ok && len(problems) == 0 {
		r.Record, in.changes[c.File], in.filed[r.Submission.sum()] = c.After, c, now
		return nil
	}
	return whole(fmt.Sprintf("it was filed as %s before, and what is new cannot be added there", c.File), help)
}

// freeKey is a key, or the key with the first number from 2 that is not taken.
func freeKey(keys []schema.PrivateKey, name string) string {
	free := name
	for n := 2; slices.ContainsFunc(keys, func(k schema.PrivateKey) bool { return k.Key.Value == free }); n++ {
		free = fmt.Sprintf("%s-%d", name, n)
	}
	return free
}

// dated holds the submission's names against the reference and dates it.
func (in *Inbox) dated(s *Submission) (*dating.Answer, Problems) {
	problems := in.known(s)
	if day, err := time.Parse(time.DateOnly, s.On); err != nil || day.After(in.today.Add(36*time.Hour)) {
		problems = append(problems, Problem{"the day", fmt.Sprintf("%s is still to come", s.On), "The visitor's clock is wrong: have it set and the submission saved once more."})
	}
	if len(problems) > 0 {
		if s.Reference != in.ref.Settings.Name.Value {
			problems[0].Help += fmt.Sprintf(" The submission is from the site of %q.", english.Clip(s.Reference, maxShown))
		}
		return nil, problems.sorted()
	}
	q := dating.Question{}
	if s.Model != "" {
		q.Models = []string{s.Model}
	}
	for _, o := range s.Observed {
		q.Observed = append(q.Observed, dating.Observation{Feature: o.Feature, Values: o.Values, Sure: schema.Sureness(o.Sure)})
	}
	answer, err := in.engine.Date(q)
	var refusal *dating.Refusal
	if errors.As(err, &refusal) {
		at := slices.IndexFunc(s.Observed, func(o Seen) bool { return o.Feature == refusal.Feature })
		p := Problem{Message: refusal.Message, Help: refusal.Help}
		if at >= 0 {
			p.Where = placeWords([]string{"observed", strconv.Itoa(at)})
		}
		return nil, Problems{p}
	}
	if err != nil {
		return nil, whole("it cannot be dated: "+err.Error(), "")
	}
	return answer, nil
}

// known wants the model and the features to be the reference's own, each feature once.
func (in *Inbox) known(s *Submission) Problems {
	var problems Problems
	if _, ok := in.ref.Models.Get(s.Model); s.Model != "" && !ok {
		problems = append(problems, unknown("model", s.Model, "the model", "models", ids(&in.ref.Models)))
	}
	first := map[string]bool{}
	for i, o := range s.Observed {
		where := placeWords([]string{"observed", strconv.Itoa(i), "feature"})
		if _, ok := in.ref.Features.Get(o.Feature); !ok {
			problems = append(problems, unknown("feature", o.Feature, where, "features", ids(&in.ref.Features)))
		} else if first[o.Feature] {
			problems = append(problems, Problem{where, fmt.Sprintf("%q is observed twice", o.Feature), "A feature that may be one of several values is observed once, with all of them."})
		}
		first[o.Feature] = true
	}
	return problems
}

func unknown(noun, name, where, folder string, known []string) Problem {
	p := Problem{where, fmt.Sprintf("there is no %s %q in the reference", noun, english.Clip(name, maxShown)), fmt.Sprintf("It may have been renamed since: look through the folder %s.", folder)}
	if near, ok := schema.Nearest(name, known); ok {
		p.Help = fmt.Sprintf("It may have been renamed since; the nearest is %q.", near)
	}
	return p
}

// ids gives the identifiers of one kind.
func ids[R schema.Record](s *schema.Collection[R]) []string {
	var all []string
	for _, r := range s.All() {
		all = append(all, r.Header().ID)
	}
	return all
}

// sum is the checksum by which a submission is known again, whatever a mail
// program did to its line ends. What is private is no part of it: a checksum
// is published, and a short text can be guessed from one.
func (s *Submission) sum() string {
	public := *s
	public.Private, public.Photographs = nil, nil
	text, err := json.Marshal(public)
	if err != nil {
		return ""
	}
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:8])
}
