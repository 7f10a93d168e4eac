package compare

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"strconv"
	"strings"
)

// maxTree bounds what an earlier revision may weigh in memory, in bytes.
const maxTree = 1 << 30

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
	files, err := git{ctx, top}.tree(commit, strings.TrimSuffix(below, "/"))
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

// blob is a file of a tree.
type blob struct {
	name, hash string
	mode       fs.FileMode
}

// tree gives a folder of a commit, from the repository's top, byte for byte as
// the commit holds it: no attribute of git leaves a file out, fills words in or
// turns line ends. Links stay links; submodules, which the commit only names,
// are left out.
func (g git) tree(commit, below string) (fs.FS, error) {
	name := commit + ":" + below
	if kind, err := g.line("cat-file", "-t", name); err != nil || kind != "tree" {
		return nil, errors.New("the folder was not there yet")
	}
	blobs, err := g.blobs(name)
	if err != nil {
		return nil, err
	}
	var hashes strings.Builder
	for _, b := range blobs {
		hashes.WriteString(b.hash + "\n")
	}
	cmd := g.command("cat-file", "--batch")
	cmd.Stdin = strings.NewReader(hashes.String())
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return nil, err
	}
	var packed bytes.Buffer
	err = pack(&packed, bufio.NewReader(out), blobs)
	if err != nil {
		_ = cmd.Process.Kill()
	}
	if err := errors.Join(err, cmd.Wait()); err != nil {
		return nil, err
	}
	return zip.NewReader(bytes.NewReader(packed.Bytes()), int64(packed.Len()))
}

// blobs lists the files of a tree.
func (g git) blobs(tree string) ([]blob, error) {
	list, err := g.line("ls-tree", "-r", "-l", "-z", tree)
	if err != nil {
		return nil, err
	}
	var blobs []blob
	total := int64(0)
	for entry := range strings.SplitSeq(strings.TrimSuffix(list, "\x00"), "\x00") {
		about, name, _ := strings.Cut(entry, "\t")
		columns := strings.Fields(about) // mode, type, hash, size
		if len(columns) != 4 || columns[1] != "blob" {
			continue
		}
		b := blob{name: name, hash: columns[2], mode: 0o644}
		if columns[0] == "120000" {
			b.mode |= fs.ModeSymlink
		}
		size, err := strconv.ParseInt(columns[3], 10, 64)
		if err != nil {
			return nil, err
		}
		if total += size; total > maxTree {
			return nil, fmt.Errorf("it is larger than %d MB; check it out into a folder and name that", maxTree>>20)
		}
		blobs = append(blobs, b)
	}
	return blobs, nil
}

// pack puts what `git cat-file --batch` says of blobs into an archive, which
// can be read as a folder.
func pack(to io.Writer, from *bufio.Reader, blobs []blob) error {
	archive := zip.NewWriter(to)
	for _, b := range blobs {
		line, err := from.ReadString('\n')
		if err != nil {
			return err
		}
		var hash, kind string
		var size int64
		if _, err := fmt.Sscan(line, &hash, &kind, &size); err != nil || kind != "blob" {
			return fmt.Errorf("git has no longer what %s was", b.name)
		}
		header := &zip.FileHeader{Name: b.name, Method: zip.Store}
		header.SetMode(b.mode)
		w, err := archive.CreateHeader(header)
		if err != nil {
			return err
		}
		if _, err := io.CopyN(w, from, size); err != nil {
			return err
		}
		if _, err := from.Discard(1); err != nil { // a line feed after each
			return err
		}
	}
	return archive.Close()
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
