package checks

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
)

func input(t *testing.T, files fs.FS) Input {
	t.Helper()
	ref, problems, err := schema.ReadFS(files, "fixture")
	if err != nil {
		t.Fatal(err)
	}
	return Input{Ref: ref, Problems: problems, Files: files}
}

func TestOneCheckCannotStopTheOthers(t *testing.T) {
	in := input(t, base(t))
	say := func(p *Pass) { p.Reportf(schema.At("x.md", 1, 1), "this was looked at") }
	report := part(t, in, []Check{
		{Name: "panics", Level: Note, Run: func(*Pass) { panic(errors.New("out of paper")) }},
		{Name: "quarrels", Level: Error, Run: reportUnsettled, finds: func(*Pass) []contradiction { panic("no years") }},
		{Name: "works", Level: Note, Run: say},
	})
	var got []string
	for _, f := range report.Findings {
		got = append(got, f.Check+": "+f.Message)
	}
	want := []string{
		`check-unfinished: the check "panics" failed: out of paper`,
		`check-unfinished: the check "quarrels" failed: no years`,
		`works: this was looked at`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if report.Counts != (Counts{Error: 2, Note: 1}) {
		t.Errorf("counted %+v", report.Counts)
	}
}

// The report depends on nothing but the records: not on the order in which
// checks end, nor on how many run at once.
func TestTheSameEveryTime(t *testing.T) {
	everything := fstest.MapFS{}
	for _, f := range fixtures(t) {
		for name, file := range f.bad {
			if name == "models/plover.md" {
				everything["models/"+f.name+".md"] = file
			}
			if _, taken := everything[name]; !taken {
				everything[name] = file
			}
		}
	}
	first := ""
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	for i := range 8 {
		runtime.GOMAXPROCS(1 + i%4)
		report, _ := reportOn(t, everything)
		got := written(t, func(b *bytes.Buffer) error { return JSON(b, report) })
		if len(report.Findings) < 20 {
			t.Fatalf("only %d findings", len(report.Findings))
		}
		if first == "" {
			first = got
		}
		if diff := cmp.Diff(first, got); diff != "" {
			t.Fatal(diff)
		}
	}
}

func TestNothingIsFoundTwice(t *testing.T) {
	same := func(p *Pass) {
		for range 3 {
			p.Reportf(schema.At("b.md", 2, 1), "the same")
		}
		p.Reportf(schema.At("a.md", 9, 1), "another")
	}
	report := part(t, input(t, base(t)), []Check{{Name: "same", Level: Note, Run: same}})
	if len(report.Findings) != 2 || report.Findings[0].Pos.File() != "a.md" || report.Counts.Note != 2 {
		t.Errorf("got %+v", report.Findings)
	}
}

func TestWhatIsLeftOutIsSaid(t *testing.T) {
	in := input(t, base(t))
	in.Files = nil
	report := whole(t, in)
	want := []string{
		"impossible-example: examples were not dated", "documented-outside: examples were not dated", "documented-unlikely: examples were not dated", "other-temper: examples were not dated",
		"unreadable-picture: the files were not opened", "unsafe-picture: the files were not opened", "located-picture: the files were not opened", "region-outside: the files were not opened",
		"unreadable-recording: the files were not opened", "beyond-recording: the files were not opened", "unmeasured-recording: the files were not opened",
	}
	if diff := cmp.Diff(want, report.LeftOut); diff != "" {
		t.Error(diff)
	}
}

// Where a record could not be read, nothing is concluded from what is not there.
func TestNothingIsConcludedFromWhatCouldNotBeRead(t *testing.T) {
	files := base(t)
	files["pages/about.md"] = &fstest.MapFile{Data: []byte("no front matter\n")}
	report, _ := reportOn(t, files)
	for _, f := range report.Findings {
		if f.Check == "uncited-source" {
			t.Errorf("concluded: %s", told(f))
		}
	}
	if !strings.Contains(strings.Join(report.LeftOut, "\n"), "uncited-source: a record could not be read") {
		t.Errorf("left out is only %v", report.LeftOut)
	}
}

func TestProblemsWithoutARowAreNotLost(t *testing.T) {
	in := input(t, base(t))
	in.Problems = append(in.Problems, schema.Problem{Check: "brand-new", Pos: schema.At("x.md", 1, 0), Message: "something odd"})
	report := whole(t, in)
	if len(report.Findings) != 1 || report.Findings[0].Check != "brand-new" || report.Counts.Error != 1 {
		t.Errorf("got %+v", report.Findings)
	}
}

func TestOnly(t *testing.T) {
	r := Report{Findings: []Finding{{Level: Error, Check: "a"}, {Level: Note, Check: "b"}, {Level: Warning, Check: "c"}}, Records: 4}
	got := r.Only(Error, Warning)
	if len(got.Findings) != 2 || got.Counts != (Counts{Error: 1, Warning: 1}) || got.Records != 4 {
		t.Errorf("got %+v", got)
	}
}

// whole makes every check.
func whole(t interface {
	Helper()
	Fatal(...any)
}, in Input) Report {
	t.Helper()
	report, err := Run(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// part makes the checks of a list.
func part(t *testing.T, in Input, list []Check) Report {
	t.Helper()
	report, err := run(t.Context(), in, list)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// TestAReportEndsWithItsContext ends it within the first check: no other is
// made, and there is no report.
func TestAReportEndsWithItsContext(t *testing.T) {
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	ctx, cancel := context.WithCancel(t.Context())
	made := 0
	check := Check{Name: "ends", Level: Note, Run: func(p *Pass) {
		made++
		p.Reportf(schema.At("x.md", 1, 1), "this was looked at")
		cancel()
		p.share(1000, func(int) { made++ })
	}}
	report, err := run(ctx, input(t, base(t)), []Check{check, check, check})
	if !errors.Is(err, context.Canceled) || len(report.Findings) > 0 || made != 1 {
		t.Errorf("%d checks made, %v, %v", made, report.Findings, err)
	}
}
