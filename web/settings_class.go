package web

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"strings"

	"halves/conventions"
)

// classFile hands out the conventions as a file.
func (s *Server) classFile(w http.ResponseWriter, r *http.Request) {
	now, err := s.o.Store.Settings(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	handOut(w, "class.yaml", "application/yaml")
	_, _ = w.Write(conventions.Write(now.Conventions))
}

// handOut sets the headers of a file that is saved rather than shown.
func handOut(w http.ResponseWriter, name, kind string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Header().Set("Cache-Control", "no-store")
}

// fail answers with the page of an error.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	s.page(func(*http.Request) (view, error) { return view{}, err }).ServeHTTP(w, r)
}

// takeClassFile keeps the conventions of a file.
func (s *Server) takeClassFile(r *http.Request) (view, error) {
	text, err := classText(r)
	if err != nil {
		return s.classRefused(r, s.tell(r, err))
	}
	return s.takeClassText(r, text)
}

func (s *Server) takeClassText(r *http.Request, text []byte) (view, error) {
	now, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	now.Conventions, err = conventions.Read(text)
	if wrong := (*conventions.FileError)(nil); errors.As(err, &wrong) {
		return s.classRefused(r, toldOfFile(wrong, text))
	}
	if err == nil {
		err = s.o.Store.SaveSettings(r.Context(), now)
	}
	if err != nil {
		return s.classRefused(r, s.tell(r, err))
	}
	return view{to: "/settings?done=class#content"}, nil
}

// classRefused is the page after a file of conventions that was not taken.
func (s *Server) classRefused(r *http.Request, why told) (view, error) {
	now, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	p, err := s.newSettingsPage(r, now)
	p.FileMistake = &why
	return settingsView(p), err
}

// classText reads the file of a form, one byte more than it may have at most, so
// that what reads it can say so.
func classText(r *http.Request) ([]byte, error) {
	file, err := sentFile(r, "file", nil)
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(file, conventions.MaxFile+1))
	if err != nil {
		return nil, formError(err)
	}
	return text, nil
}

// sentFile returns the file of a form by its field, as it streams in. The fields
// that come before it go into the map. The error is a *pageError.
func sentFile(r *http.Request, field string, before map[string]string) (*multipart.Part, error) {
	none := &pageError{http.StatusUnprocessableEntity, "No file was chosen.", "Choose one, then send it."}
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, none
	}
	for {
		part, err := parts.NextPart()
		switch {
		case err == io.EOF:
			return nil, none
		case err != nil:
			return nil, formError(err)
		case part.FormName() == field && part.FileName() == "":
			return nil, none
		case part.FormName() == field:
			return part, nil
		case before != nil && len(before) < 8:
			const most = 1 << 10
			value, err := io.ReadAll(io.LimitReader(part, most))
			if err != nil {
				return nil, formError(err)
			}
			before[part.FormName()] = string(value)
		}
	}
}

// toldOfFile points at the place in a file of conventions.
func toldOfFile(wrong *conventions.FileError, text []byte) told {
	t := told{Status: http.StatusUnprocessableEntity, Message: sentence(wrong.Msg), Hint: sentence(wrong.Hint)}
	if wrong.Line == 0 {
		return t
	}
	t.Message = fmt.Sprintf("Line %d, column %d: %s.", wrong.Line, wrong.Column, strings.TrimSuffix(wrong.Msg, "."))
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.TrimPrefix(string(text), "\ufeff")), "\n")
	if wrong.Line > len(lines) {
		return t
	}
	line := []rune(lines[wrong.Line-1])
	at := min(max(wrong.Column-1, 0), len(line))
	end := min(at+1, len(line))
	for end < len(line) && line[end] != ' ' && line[end] != ':' {
		end++ // to the end of the word
	}
	const around = 60 // characters of the line that are shown on each side
	t.Before, t.At, t.End = string(line[max(at-around, 0):at]), string(line[at:min(end, at+around)]), string(line[min(end, at+around):min(len(line), end+around)])
	return t
}
