package axlefile

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// Input is a file that was read and is never to be overwritten.
type Input struct {
	name string
	path string      // empty for one without a path
	file fs.FileInfo // when it was read; nil if unknown
}

// InputAt is the file at a path.
func InputAt(path string) Input {
	file, _ := os.Stat(path) // one that is not there cannot be harmed
	return Input{name: path, path: path, file: file}
}

// InputOf is the file behind a stream, named for messages; none if the stream is no file.
func InputOf(from io.Reader, name string) []Input {
	f, ok := from.(interface{ Stat() (fs.FileInfo, error) })
	if !ok {
		return nil
	}
	file, err := f.Stat()
	if err != nil || !file.Mode().IsRegular() {
		return nil
	}
	return []Input{{name: name, file: file}}
}

// is tells whether a file is the input, as it was read or as it is now.
func (in Input) is(there fs.FileInfo) bool {
	if in.file != nil && os.SameFile(there, in.file) {
		return true
	}
	now, err := os.Stat(in.path)
	return err == nil && os.SameFile(there, now)
}

// Write puts a text into a file, whole or not at all. It refuses to overwrite
// any of the inputs, by whatever name or link, always, and any other file that
// exists unless replace is set.
func Write(path string, text []byte, replace bool, inputs ...Input) error {
	if err := MayWrite(path, replace, inputs...); err != nil {
		return err
	}
	sweep(filepath.Dir(path))
	temporary, err := writeBeside(path, text)
	if err != nil {
		return fmt.Errorf("%s: not written: %w", path, err)
	}
	defer os.Remove(temporary)
	if err := place(temporary, path, replace); err != nil {
		return fmt.Errorf("%s: not written: %w", path, err)
	}
	return syncFolder(filepath.Dir(path))
}

// MayWrite tells what Write would refuse, before any harm is done.
func MayWrite(path string, replace bool, inputs ...Input) error {
	there, err := os.Stat(path)
	if err == nil {
		for _, input := range inputs {
			if input.is(there) {
				return fmt.Errorf("%s: not written: it is the input file %s; give another name", path, input.name)
			}
		}
		if !there.Mode().IsRegular() {
			return fmt.Errorf("%s: not written: it is not a plain file", path)
		}
	}
	if _, err := os.Lstat(path); err == nil && !replace {
		return fmt.Errorf("%s: not written: %w; give another name", path, fs.ErrExist)
	}
	return nil
}

// SameFile tells whether two paths lead to one file, whether it exists or not.
func SameFile(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	if errX == nil && errY == nil {
		return os.SameFile(x, y)
	}
	folderX, errX := os.Stat(filepath.Dir(a))
	folderY, errY := os.Stat(filepath.Dir(b))
	return errX == nil && errY == nil && os.SameFile(folderX, folderY) && filepath.Base(a) == filepath.Base(b)
}

// writeBeside writes a temporary file in the same folder, down to the disk. It is
// as readable as the file at path, or as the user's mask makes a new one.
func writeBeside(path string, text []byte) (name string, err error) {
	folder := filepath.Dir(path)
	name = filepath.Join(folder, fmt.Sprintf("%s%d-%s", temporaryPrefix, os.Getpid(), rand.Text()))
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", fmt.Errorf("folder %s: %w", folder, errors.Unwrap(err)) // not the name of the temporary file
	}
	defer func() {
		if err != nil {
			os.Remove(name)
		}
	}()
	var mode error
	if there, missing := os.Stat(path); missing == nil {
		mode = f.Chmod(there.Mode().Perm())
	}
	_, writing := f.Write(text)
	return name, errors.Join(mode, writing, f.Sync(), f.Close())
}

// temporaryPrefix begins the name of a temporary file; the number of the process
// that writes it follows.
const temporaryPrefix = ".bushtune-"

// sweep removes what a run left in a folder that was stopped while it wrote: files
// with the number of a process that is no more. One that cannot be removed is no loss.
func sweep(folder string) {
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		rest, ours := strings.CutPrefix(e.Name(), temporaryPrefix)
		number, _, _ := strings.Cut(rest, "-")
		if pid, err := strconv.Atoi(number); ours && err == nil && !running(pid) {
			os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// running tells whether a process exists.
func running(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, fs.ErrPermission)
}

// place gives the temporary file its name. A hard link never replaces a file
// that appeared meanwhile; where links are not possible a rename does the work.
func place(temporary, path string, replace bool) error {
	if !replace {
		err := os.Link(temporary, path)
		if err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return os.Rename(temporary, path)
}

// syncFolder brings the new name to the disk; not every system can, which is no loss.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		return nil
	}
	_ = d.Sync()
	return d.Close()
}
