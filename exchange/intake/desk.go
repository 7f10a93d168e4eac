package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"yearmark/dating"
	"yearmark/schema"
)

// Desk takes in submissions for one reference. It is not safe for concurrent use.
type Desk struct {
	ref    *schema.Reference
	engine *dating.Engine
	today  time.Time
	bows   *shelf            // the examples, and what was taken in since
	filed  map[string]string // the example that a submission became, by checksum
	next   int               // the number that the next example gets
	width  int               // digits of an example's number
}

// NewDesk makes a desk for a reference and its engine. Submissions from after
// today are refused.
func NewDesk(ref *schema.Reference, engine *dating.Engine, today time.Time) *Desk {
	d := &Desk{ref: ref, engine: engine, today: today, bows: newShelf(ref), filed: map[string]string{}, next: 1, width: 4}
	for _, e := range ref.Examples.All() {
		if e.Submitted != nil && e.Submitted.Sum.Value != "" {
			d.filed[e.Submitted.Sum.Value] = e.ID
		}
		if n, err := strconv.Atoi(e.ID); err == nil && n >= d.next {
			d.next, d.width = n+1, max(d.width, len(e.ID))
		}
		d.bows.add(bowOf(e))
	}
	return d
}

// Receipt is what the desk makes of a submission.
type Receipt struct {
	Submission *Submission
	Answer     *dating.Answer
	Alike      []Alike // bows on record that it may be, likeliest first
	// ID is the example that it becomes, or has become before. The record is
	// ready to be written, and nil where it has become one before.
	ID     string
	Record []byte
	Filed  bool // it is on record, from this reading or one before
	sum    string
}

// Before says that the same submission was filed before.
func (r *Receipt) Before() bool { return r.Record == nil }

// File is the path of the record below the reference's folder.
func (r *Receipt) File() string { return schema.KindExample.Folder() + "/" + r.ID + ".md" }

// Take reads a submission, holds it against the reference, dates it and looks
// for bows on record that it may be. Nothing is written. The error is a
// Problems.
func (d *Desk) Take(data []byte) (*Receipt, error) {
	s, err := Read(data)
	if err != nil {
		return nil, err
	}
	answer, problems := d.dated(s)
	if len(problems) > 0 {
		return nil, problems
	}
	r := &Receipt{Submission: s, Answer: answer, sum: s.sum()}
	if id, before := d.filed[r.sum]; before {
		r.ID, r.Filed = id, true
		return r, nil
	}
	r.Alike = d.bows.alike(bowOfSubmission(s))
	if err := d.number(r); err != nil {
		return nil, err
	}
	return r, nil
}

// number gives the record the next free number.
func (d *Desk) number(r *Receipt) error {
	r.ID = fmt.Sprintf("%0*d", d.width, d.next)
	r.Record = r.Submission.record(r.sum, r.Alike)
	if problems := d.readBack(r); len(problems) > 0 {
		return problems
	}
	return nil
}

// Keep notes that a receipt's record was written, or would have been: later
// submissions get later numbers, and are held against this one too.
func (d *Desk) Keep(r *Receipt) {
	r.Filed = true
	d.filed[r.sum] = r.ID
	b := bowOfSubmission(r.Submission)
	b.id, b.name = r.ID, "Example "+r.ID
	d.bows.add(b)
	d.next++
}

// dated holds the submission's names against the reference and dates it.
func (d *Desk) dated(s *Submission) (*dating.Answer, Problems) {
	problems := d.known(s)
	if day, err := time.Parse(time.DateOnly, s.On); err != nil || day.After(d.today.Add(36*time.Hour)) {
		problems = append(problems, Problem{"the day", fmt.Sprintf("%s is still to come", s.On), "The visitor's clock is wrong: have it set and the submission saved once more."})
	}
	if len(problems) > 0 {
		if s.Reference != d.ref.Settings.Name.Value {
			problems[0].Help += fmt.Sprintf(" The submission is from the site of %q.", clip(s.Reference))
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
	answer, err := d.engine.Date(q)
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
func (d *Desk) known(s *Submission) Problems {
	var problems Problems
	if _, ok := d.ref.Models.Get(s.Model); s.Model != "" && !ok {
		problems = append(problems, unknown("model", s.Model, "the model", "models", ids(&d.ref.Models)))
	}
	first := map[string]bool{}
	for i, o := range s.Observed {
		where := placeWords([]string{"observed", strconv.Itoa(i), "feature"})
		if _, ok := d.ref.Features.Get(o.Feature); !ok {
			problems = append(problems, unknown("feature", o.Feature, where, "features", ids(&d.ref.Features)))
		} else if first[o.Feature] {
			problems = append(problems, Problem{where, fmt.Sprintf("%q is observed twice", o.Feature), "A feature that may be one of several values is observed once, with all of them."})
		}
		first[o.Feature] = true
	}
	return problems
}

func unknown(noun, name, where, folder string, known []string) Problem {
	p := Problem{where, fmt.Sprintf("there is no %s %q in the reference", noun, clip(name)), fmt.Sprintf("It may have been renamed since: look through the folder %s.", folder)}
	if near, ok := schema.Nearest(name, known); ok {
		p.Help = fmt.Sprintf("It may have been renamed since; the nearest is %q.", near)
	}
	return p
}

// ids gives the identifiers on a shelf.
func ids[R schema.Record](s *schema.Shelf[R]) []string {
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
