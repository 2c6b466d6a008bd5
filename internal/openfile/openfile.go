// Package openfile opens every file that the program reads.
//
// A file is a regular one, or the program's standard input under any of its
// names, such as /dev/stdin. Pipes of other names, devices and folders are
// refused before anything is read, since opening or reading one may never come
// back. What is read is bounded, and both opening and reading end when the
// context does, also where the disk behind the file does not answer.
//
// Errors say what is wrong with the file and do not name it: the caller does.
package openfile

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"syscall"
)

// File is an open file. Its methods must not be called at the same time, and not
// again once one has returned the context's error.
type File struct {
	ctx    context.Context
	file   *os.File
	buffer []byte
	Size   int64 // bytes; 0 for standard input, which has none that is known
}

// Open opens the file called name. what says with its article what the file is
// to be, for messages: "a design file". The error wraps fs.ErrNotExist where
// there is no such file.
func Open(ctx context.Context, name, what string) (*File, error) {
	f, err := await(ctx, func() (*os.File, error) { return open(name, what) })
	if err != nil {
		return nil, err
	}
	out := &File{ctx: ctx, file: f}
	if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
		out.Size = info.Size()
	}
	return out, nil
}

// Regular is Open for files that are read more than once: standard input is
// refused too unless it is a regular file.
func Regular(ctx context.Context, name, what string) (*File, error) {
	f, err := Open(ctx, name, what)
	if err != nil {
		return nil, err
	}
	if info, err := f.file.Stat(); err != nil || !info.Mode().IsRegular() {
		f.Close()
		return nil, fmt.Errorf("is standard input, which can be read once only: %s in a regular file is needed", what)
	}
	return f, nil
}

// open opens a regular file or returns standard input.
func open(name, what string) (*os.File, error) {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, Cause(err)
	case !info.Mode().IsRegular() && isStandardInput(info):
		return os.Stdin, nil
	}
	if err := refuse(info, what); err != nil {
		return nil, err // not even opened: for some devices that does something
	}
	// Something else may stand there by now; a pipe without a writer would keep a
	// plain call of open waiting.
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, Cause(err)
	}
	if info, err = f.Stat(); err == nil {
		err = refuse(info, what)
	}
	if err != nil {
		f.Close()
		return nil, Cause(err)
	}
	return f, nil
}

// refuse returns an error for what is no regular file.
func refuse(info fs.FileInfo, what string) error {
	switch {
	case info.Mode().IsRegular():
		return nil
	case info.IsDir():
		return fmt.Errorf("is a folder: %s is needed", what)
	}
	return fmt.Errorf("is a %s: %s is needed, in a regular file or on standard input", Kind(info.Mode()), what)
}

func isStandardInput(info fs.FileInfo) bool {
	in, err := os.Stdin.Stat()
	return err == nil && os.SameFile(in, info)
}

// Kind names what stands under a name in place of a regular file.
func Kind(mode fs.FileMode) string {
	switch {
	case mode.IsDir():
		return "folder"
	case mode&fs.ModeNamedPipe != 0:
		return "pipe"
	case mode&fs.ModeSocket != 0:
		return "socket"
	}
	return "device"
}

// Cause takes the operation and the file's name off an error of the system.
func Cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}

// await returns what work returns, or the context's error as soon as that ends.
// Work that the system does not let go of is left behind.
func await[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type outcome struct {
		value T
		err   error
	}
	done := make(chan outcome, 1)
	if err := ctx.Err(); err != nil {
		return outcome{}.value, err
	}
	go func() {
		v, err := work()
		done <- outcome{v, err}
	}()
	select {
	case o := <-done:
		return o.value, o.err
	case <-ctx.Done():
		return outcome{}.value, ctx.Err()
	}
}

// largestRead bounds one read, so that memory stays flat, bytes.
const largestRead = 1 << 20

// Read reads like any reader, and returns the context's error when that ends.
func (f *File) Read(p []byte) (int, error) {
	if len(f.buffer) < min(len(p), largestRead) {
		f.buffer = make([]byte, min(len(p), largestRead))
	}
	into := f.buffer[:min(len(p), largestRead)] // not p, which the caller may use again
	n, err := await(f.ctx, func() (int, error) { return f.file.Read(into) })
	copy(p, into[:n])
	if err != nil && !errors.Is(err, io.EOF) {
		err = Cause(err)
	}
	return n, err
}

// ReadAt reads like an io.ReaderAt. Of a regular file only.
func (f *File) ReadAt(p []byte, offset int64) (int, error) {
	into := make([]byte, len(p))
	n, err := await(f.ctx, func() (int, error) { return f.file.ReadAt(into, offset) })
	copy(p, into[:n])
	return n, err
}

// Rewind makes Read start again. Of a regular file only.
func (f *File) Rewind() error {
	_, err := f.file.Seek(0, io.SeekStart)
	return err
}

// Close closes the file; standard input stays open.
func (f *File) Close() error {
	if f.file == os.Stdin {
		return nil
	}
	return f.file.Close()
}

// ReadAll reads the file called name whole. It must hold no more than limit
// bytes.
func ReadAll(ctx context.Context, name, what string, limit int64) ([]byte, error) {
	f, err := Open(ctx, name, what)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if f.Size > limit {
		return nil, TooLarge(f.Size, what, limit)
	}
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		return nil, err
	case int64(len(data)) > limit:
		return nil, fmt.Errorf("has more than %s: %s has at most that", bytesText(limit), what)
	}
	return data, nil
}

// TooLarge says that something of a size in bytes is larger than it may be.
func TooLarge(size int64, what string, limit int64) error {
	return fmt.Errorf("is %.1f MB: %s has at most %s", float64(size)/(1<<20), what, bytesText(limit))
}

// bytesText writes a limit in the largest unit of which it is a whole number.
func bytesText(n int64) string {
	switch {
	case n >= 1<<20 && n%(1<<20) == 0:
		return fmt.Sprintf("%d MB", n>>20)
	case n >= 1<<10 && n%(1<<10) == 0:
		return fmt.Sprintf("%d kB", n>>10)
	}
	return fmt.Sprintf("%d bytes", n)
}
