package compare

import (
	"context"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// repository is a git repository in a folder with blanks in its name, in which
// the starting reference lies below "our register".
func repository(t *testing.T) (top, below string) {
	t.Helper()
	for name, value := range map[string]string{
		"GIT_CONFIG_GLOBAL": os.DevNull, "GIT_CONFIG_SYSTEM": os.DevNull, "GIT_AUTHOR_NAME": "n", "GIT_AUTHOR_EMAIL": "n@example.org",
		"GIT_COMMITTER_NAME": "n", "GIT_COMMITTER_EMAIL": "n@example.org", "GIT_CEILING_DIRECTORIES": os.TempDir(),
	} {
		t.Setenv(name, value)
	}
	top = filepath.Join(t.TempDir(), "a club's work")
	below = filepath.Join(top, "our register")
	if err := os.MkdirAll(top, 0o755); err != nil {
		t.Fatal(err)
	}
	runGit(t, top, "init", "-q", "-b", "main")
	write(t, filepath.Join(top, "README"), "no register yet\n")
	commit(t, top, "first")
	for name, file := range starter(t) {
		write(t, filepath.Join(below, filepath.FromSlash(name)), string(file.Data))
	}
	commit(t, top, "second")
	return top, below
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func runGit(t *testing.T, folder string, args ...string) {
	t.Helper()
	cmd := exec.Command("git", append([]string{"-C", folder}, args...)...)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("git %v: %v\n%s", args, err, out)
	}
}

func commit(t *testing.T, folder, message string) {
	t.Helper()
	runGit(t, folder, "add", "-A")
	runGit(t, folder, "commit", "-q", "-m", message)
}

func TestRevisionIsTheFolderAsItWas(t *testing.T) {
	top, below := repository(t)
	write(t, filepath.Join(below, "models", "wren.md"), "no longer a record\n")
	write(t, filepath.Join(below, "models", "not-added.md"), "nor this\n")
	commit(t, top, "third")
	write(t, filepath.Join(below, "models", "not-added.md"), "changed since\n")
	files, name, err := Revision(context.Background(), below, "HEAD~1")
	if err != nil || len(name) != 12 {
		t.Fatalf("%q, %v", name, err)
	}
	was := folder{}
	err = fs.WalkDir(files, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, path)
		was[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	want := starter(t)
	for name, file := range want {
		if was[name] == nil || string(was[name].Data) != string(file.Data) {
			t.Errorf("%s is not as it was", name)
		}
	}
	if len(was) != len(want) {
		t.Errorf("%d files, want %d", len(was), len(want))
	}
	if c := between(t, was.state(t, "a"), want.state(t, "b")); !c.None() {
		t.Errorf("it differs: %v", told(c))
	}
	if err := fstest.TestFS(files, "models/wren.md", "reference.yaml"); err != nil {
		t.Error(err)
	}
}

// TestAttributesOfGitChangeNothing gives the repository every attribute and
// setting that makes git hand out other bytes than it keeps, or none: the
// revision compares as equal to the folder. A link stays a link, and a submodule,
// whose files the commit does not hold, is left out.
func TestAttributesOfGitChangeNothing(t *testing.T) {
	top, below := repository(t)
	write(t, filepath.Join(top, ".gitattributes"), "*.md text eol=crlf export-subst\nexamples/** export-ignore\n/our?register/models/** export-ignore\n*.md ident\n")
	runGit(t, top, "config", "core.autocrlf", "true")
	page := filepath.Join(below, "pages", "ids.md")
	write(t, page, "---\nrecord: page\ntitle: Signs\n---\n\n$Format:%H$ and $Id$ stand here.\n")
	runGit(t, top, "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", top, "our register/part")
	if err := os.Symlink("signs.md", filepath.Join(below, "pages", "link.md")); err != nil {
		t.Fatal(err)
	}
	commit(t, top, "third")
	files, _, err := Revision(context.Background(), below, "HEAD")
	if err != nil {
		t.Fatal(err)
	}
	now := folder{}
	err = fs.WalkDir(os.DirFS(below), ".", func(path string, e fs.DirEntry, err error) error {
		if err == nil && path == "part" {
			return fs.SkipDir
		}
		if err != nil || !e.Type().IsRegular() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(below, filepath.FromSlash(path)))
		now[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	was := folder{}
	err = fs.WalkDir(files, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		if (e.Type()&fs.ModeSymlink != 0) != (path == "pages/link.md") {
			t.Errorf("%s is of type %v", path, e.Type())
		}
		if e.Type().IsRegular() {
			data, err := fs.ReadFile(files, path)
			if err != nil {
				return err
			}
			was[path] = &fstest.MapFile{Data: data}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(was) != len(now) || was["pages/ids.md"] == nil || string(was["pages/ids.md"].Data) != string(now["pages/ids.md"].Data) {
		t.Errorf("%d files of %d; the page is %v", len(was), len(now), was["pages/ids.md"])
	}
	if c := between(t, was.state(t, "a"), now.state(t, "b")); !c.None() {
		t.Errorf("it differs: %v", told(c))
	}
}

func TestRevisionOfTheTop(t *testing.T) {
	top, _ := repository(t)
	runGit(t, top, "tag", "v1")
	files, _, err := Revision(context.Background(), top, "v1")
	if err != nil {
		t.Fatal(err)
	}
	if data, err := fs.ReadFile(files, "our register/reference.yaml"); err != nil || len(data) == 0 {
		t.Errorf("%q, %v", data, err)
	}
}

func TestRevisionSaysWhatIsWrong(t *testing.T) {
	_, below := repository(t)
	for _, c := range []struct{ folder, revision, want string }{
		{below, "v9", "is no folder, and no revision of the repository of"},
		{below, "--output=stolen", "no revision of the repository"},
		{below, "-h", "no revision of the repository"},
		{below, "", "no revision of the repository"},
		{below, "HEAD:README", "no revision of the repository"},
		{below, "HEAD~1", "the folder was not there yet"},
		{t.TempDir(), "HEAD", "lies in no git repository"},
		{filepath.Join(below, "nothing"), "HEAD", "lies in no git repository"},
	} {
		files, _, err := Revision(context.Background(), c.folder, c.revision)
		if err == nil || files != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.revision, err, c.want)
		}
	}
	if _, err := os.Stat("stolen"); err == nil {
		t.Error("an option of git was carried out")
	}
	t.Setenv("PATH", "")
	if _, _, err := Revision(context.Background(), below, "HEAD"); err == nil || !strings.Contains(err.Error(), "git is not installed") {
		t.Errorf("without git: %v", err)
	}
}

func TestRevisionEndsWithItsContext(t *testing.T) {
	_, below := repository(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := Revision(ctx, below, "HEAD"); err == nil {
		t.Error("it ran on")
	}
}
