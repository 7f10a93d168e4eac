package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"slices"

	"yearmark/checks"
	"yearmark/exchange/editing"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

// remedyView is a button that ends a finding.
type remedyView struct {
	Key, Words string
	Asks       string // what is asked beside it, or empty
}

// remediesOf are the buttons of a finding. Where alone names a file, only those
// that change this file and no other.
func remediesOf(f checks.Finding, alone string) []remedyView {
	var list []remedyView
	for _, r := range f.Remedies {
		elsewhere := func(e schema.Edit) bool { return e.Pos.File() != alone || e.To != "" }
		if alone == "" || !slices.ContainsFunc(r.Edits, elsewhere) {
			list = append(list, remedyView{remedyKey(f, r), r.Title, r.Asks})
		}
	}
	return list
}

// remedyKey names a remedy among all that a report offers.
func remedyKey(f checks.Finding, r schema.Remedy) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%s\n%s", f.Check, f.Pos, f.Message, r.Title))
	return hex.EncodeToString(sum[:8])
}

// errMended is said of a remedy that nothing found asks for any more.
var errMended = errors.New("this is not found any more, or stands elsewhere by now; look at what is found again")

// remedied adds to changes those of the remedy that a key names, in the records
// as they are with the changes, and gives what undo is to call all of them.
func (d *Desk) remedied(ctx context.Context, changes []journal.Change, key, said string) ([]journal.Change, string, error) {
	report, err := d.found(ctx, changes)
	if err != nil {
		return nil, "", err
	}
	r, ok := remedyBy(report, key)
	if !ok {
		return nil, "", errMended
	}
	if r.Asks != "" && said == "" {
		return nil, "", fmt.Errorf("a word is needed first: %s", r.Asks)
	}
	list, err := editing.Mend(r, said, func(file string) ([]byte, error) {
		if i := changeOf(changes, file); i >= 0 {
			return changes[i].After, nil
		}
		return d.read(file)
	})
	for _, m := range list {
		if i := changeOf(changes, m.File); i >= 0 {
			changes[i].After = m.After
			continue
		}
		changes = append(changes, journal.Change{File: m.File, Before: m.Before, After: m.After})
	}
	if errors.Is(err, fs.ErrNotExist) {
		err = errMended
	}
	return changes, lowered(r.Title), err
}

// found is what is found in the records with changes.
func (d *Desk) found(ctx context.Context, changes []journal.Change) (checks.Report, error) {
	if len(changes) == 0 {
		_, report, err := d.register.Newest(ctx)
		return report, err
	}
	return d.register.With(ctx, changes)
}

func remedyBy(report checks.Report, key string) (schema.Remedy, bool) {
	for _, f := range report.Findings {
		for _, r := range f.Remedies {
			if remedyKey(f, r) == key {
				return r, true
			}
		}
	}
	return schema.Remedy{}, false
}

func changeOf(changes []journal.Change, file string) int {
	return slices.IndexFunc(changes, func(c journal.Change) bool { return c.File == file })
}

// mend carries out a remedy that was pressed in a list of findings.
func (d *Desk) mend(w http.ResponseWriter, r *http.Request) error {
	d.writing.Lock()
	defer d.writing.Unlock()
	key := r.PostFormValue("key")
	changes, name, err := d.remedied(r.Context(), nil, key, r.PostFormValue("-why-"+key))
	if err != nil {
		return err
	}
	if err := d.write(r.Context(), name, changes); err != nil {
		return err
	}
	http.Redirect(w, r, d.access.path+"findings", http.StatusSeeOther)
	return nil
}

// mendForm carries out a remedy that was pressed in a form, on what stands in
// it, and saves both. In the form of a new record it is put into the form.
func (d *Desk) mendForm(w http.ResponseWriter, r *http.Request, of draft, change journal.Change, key string) error {
	changes, name, err := d.remedied(r.Context(), []journal.Change{change}, key, r.PostForm.Get("-why-"+key))
	if err != nil {
		if report, failed := d.register.With(r.Context(), []journal.Change{change}); failed == nil {
			of.notes, of.said = notesOf(report, change.File, change.After, of.isNew)
		}
		return d.refuse(w, r, of, err)
	}
	if of.isNew {
		if of.values, err = fileValues(change.File, changes[0].After, describe(of.kind)); err != nil {
			return d.refuse(w, r, of, err)
		}
		return d.show(w, r, http.StatusOK, of)
	}
	if err := d.write(r.Context(), name, changes); err != nil {
		return d.refuse(w, r, of, err)
	}
	to := "edit/" + string(of.kind) + "/" + of.id + "#saved"
	if changes[0].After == nil { // the file got another name
		to = wayTo(changes[len(changes)-1].File)
	}
	http.Redirect(w, r, d.access.path+to, http.StatusSeeOther)
	return nil
}
