package checks

import (
	"bytes"
	"net/url"
	"unicode/utf8"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"yearmark/schema"
)

// Mender gives what a remedy makes of the files that it changes.
type Mender func(schema.Remedy) ([]schema.Mended, error)

// sarifFixes are the remedies of a finding that a program can carry out by
// itself (SARIF 2.1.0, 3.55). One that asks something of a person, or that gives
// a file another name, is none.
func sarifFixes(f Finding, mend Mender) []*sarif.Fix {
	if mend == nil {
		return nil
	}
	var fixes []*sarif.Fix
	for _, r := range f.Remedies {
		if r.Asks != "" {
			continue
		}
		files, err := mend(r)
		if err != nil {
			continue // the records are not as the remedy takes them to be
		}
		fix := sarif.NewFix().WithDescription(sarif.NewTextMessage(r.Title))
		for _, file := range files {
			if file.Before == nil || file.After == nil {
				fix = nil
				break
			}
			if !bytes.Equal(file.Before, file.After) {
				fix.AddArtifactChange(sarifChange(file))
			}
		}
		if fix != nil && len(fix.ArtifactChanges) > 0 {
			fixes = append(fixes, fix)
		}
	}
	return fixes
}

// sarifChange is the one region between what stays at the beginning of a file and
// what stays at its end, and what comes in its place.
func sarifChange(file schema.Mended) *sarif.ArtifactChange {
	from := agree(file.Before, file.After)
	for from > 0 && (!utf8.RuneStart(at0(file.Before, from)) || !utf8.RuneStart(at0(file.After, from)) || file.Before[from-1] == '\r') {
		from--
	}
	end, now := len(file.Before), len(file.After)
	for end > from && now > from && file.Before[end-1] == file.After[now-1] {
		end, now = end-1, now-1
	}
	for !utf8.RuneStart(at0(file.Before, end)) || !utf8.RuneStart(at0(file.After, now)) || end > 0 && end < len(file.Before) && file.Before[end] == '\n' && file.Before[end-1] == '\r' {
		end, now = end+1, now+1
	}
	region := sarif.NewRegion()
	line, column := placeOf(file.Before[:from])
	region.StartLine, region.StartColumn = &line, &column
	endLine, endColumn := placeOf(file.Before[:end])
	region.EndLine, region.EndColumn = &endLine, &endColumn
	replacement := sarif.NewReplacement().WithDeletedRegion(region)
	if text := string(file.After[from:now]); text != "" {
		content := sarif.NewArtifactContent()
		content.Text = &text
		replacement.WithInsertedContent(content)
	}
	return sarif.NewArtifactChange().
		WithArtifactLocation(sarif.NewSimpleArtifactLocation((&url.URL{Path: file.File}).String())).
		AddReplacement(replacement)
}

// agree counts the bytes with which two files begin alike.
func agree(a, b []byte) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// at0 is a byte of a file, or 0 at its end.
func at0(b []byte, i int) byte {
	if i < len(b) {
		return b[i]
	}
	return 0
}

// placeOf is the line and the column, in code points and from 1, that follow a text.
func placeOf(before []byte) (line, column int) {
	return 1 + bytes.Count(before, []byte("\n")), 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
}
