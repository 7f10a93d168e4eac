package compare

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"strings"
)

// maxArchive bounds what an earlier revision may weigh in memory.
const maxArchive = 1 << 30

// Revision gives a folder as git kept it at a revision ("HEAD~1", "v2", a
// hash), in memory, and the short name of the commit. The folder lies in the
// repository of that name now; links in it are not followed. It runs git,
// which must be installed. The error says in a sentence what is wrong.
func Revision(ctx context.Context, folder, revision string) (fs.FS, string, error) {
	if _, err := exec.LookPath("git"); err != nil {
		return nil, "", fmt.Errorf("git is not installed, so that the revision %q cannot be read", revision)
	}
	g := git{ctx, folder}
	top, err := g.line("rev-parse", "--show-toplevel")
	if err != nil {
		return nil, "", fmt.Errorf("%q is no folder, and no revision either, since %q lies in no git repository", revision, folder)
	}
	below, err := g.line("rev-parse", "--show-prefix")
	if err != nil {
		return nil, "", err
	}
	commit, err := g.line("rev-parse", "--verify", "--quiet", "--end-of-options", revision+"^{commit}")
	if err != nil {
		return nil, "", fmt.Errorf("%q is no folder, and no revision of the repository of %q", revision, folder)
	}
	files, err := git{ctx, top}.archive(commit, strings.TrimSuffix(below, "/"))
	if err != nil {
		return nil, "", fmt.Errorf("the revision %q of %q cannot be read: %w", revision, folder, err)
	}
	return files, commit[:min(len(commit), 12)], nil
}

// git runs git in a folder.
type git struct {
	ctx    context.Context
	folder string
}

func (g git) command(args ...string) *exec.Cmd {
	cmd := exec.CommandContext(g.ctx, "git", append([]string{"-C", g.folder}, args...)...)
	cmd.Env = append(os.Environ(), "LC_ALL=C", "GIT_LITERAL_PATHSPECS=1", "GIT_TERMINAL_PROMPT=0", "GIT_OPTIONAL_LOCKS=0")
	return cmd
}

// line runs git and gives its one line of output.
func (g git) line(args ...string) (string, error) {
	cmd := g.command(args...)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		return "", complained(complaint.String(), err)
	}
	return strings.TrimRight(string(out), "\r\n"), nil
}

// archive gives a folder of a commit, from the repository's top.
func (g git) archive(commit, below string) (fs.FS, error) {
	args := []string{"archive", "--format=zip", "-0", commit}
	if below != "" {
		if kind, err := g.line("cat-file", "-t", commit+":"+below); err != nil || kind != "tree" {
			return nil, errors.New("the folder was not there yet")
		}
		args = append(args, "--", below)
	}
	cmd := g.command(args...)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	data, readErr := io.ReadAll(io.LimitReader(out, maxArchive+1))
	if len(data) > maxArchive || readErr != nil {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		if readErr != nil {
			return nil, readErr
		}
		return nil, fmt.Errorf("it is larger than %d MB; check it out into a folder and name that", maxArchive>>20)
	}
	if err := cmd.Wait(); err != nil {
		return nil, complained(complaint.String(), err)
	}
	files, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	if below == "" {
		return files, nil
	}
	return fs.Sub(files, path.Clean(below))
}

// complained gives what git said, or that it failed.
func complained(words string, err error) error {
	line, _, _ := strings.Cut(strings.TrimSpace(words), "\n")
	line = strings.TrimPrefix(strings.TrimPrefix(line, "fatal: "), "error: ")
	if line == "" {
		return err
	}
	return errors.New(line)
}
