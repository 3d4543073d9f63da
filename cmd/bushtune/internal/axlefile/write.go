package axlefile

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write puts a text into a file, whole or not at all. It refuses to overwrite
// any of the inputs, by whatever name or link, always, and any other file that
// exists unless replace is set.
func Write(path string, text []byte, replace bool, inputs ...string) error {
	if err := MayWrite(path, replace, inputs...); err != nil {
		return err
	}
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
func MayWrite(path string, replace bool, inputs ...string) error {
	there, err := os.Stat(path)
	if err == nil {
		for _, input := range inputs {
			if same, err := os.Stat(input); err == nil && os.SameFile(there, same) {
				return fmt.Errorf("%s: not written: it is the input file %s; give another name", path, input)
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
	name = filepath.Join(folder, ".bushtune-"+rand.Text()+".toml")
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
