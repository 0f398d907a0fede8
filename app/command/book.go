package command

import (
	"errors"
	"fmt"
	"io/fs"

	"lampblack/notebook"
)

// reading opens the notebook, which must be there, for reading.
func (s *session) reading(do func(*notebook.Book, contents) error) error {
	b, err := notebook.Open(s.notebook, notebook.Options{ReadOnly: true, Program: s.program.Version})
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no notebook at %s yet; open the window once, keep a take, or name another with --notebook", s.notebook)
	}
	if err != nil {
		return err
	}
	return s.with(b, do)
}

// writing opens the notebook for writing, and makes it if it is not there.
func (s *session) writing(do func(*notebook.Book, contents) error) error {
	b, err := notebook.Open(s.notebook, notebook.Options{Program: s.program.Version})
	if err != nil {
		return err
	}
	if readOnly, why := b.ReadOnly(); readOnly {
		return errors.Join(fmt.Errorf("nothing was changed: the notebook is open for reading only: %s", why), b.Close())
	}
	return s.with(b, do)
}

func (s *session) with(b *notebook.Book, do func(*notebook.Book, contents) error) error {
	c, err := readContents(b)
	if err == nil {
		err = do(b, c)
	}
	return errors.Join(err, b.Close())
}
