package sqlstore

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/tightwright/tightwright/server/store"
)

// checkKey applies the rule for ids and kinds. Control characters are refused
// because one engine does not store NUL in a text, and because they are used to
// join ids in a column.
func checkKey(name, key string) error {
	if key == "" {
		return fmt.Errorf("%w: %s is empty", store.ErrInvalid, name)
	}
	return checkOptionalKey(name, key)
}

func checkOptionalKey(name, key string) error {
	switch {
	case len(key) > store.MaxKeyLength:
		return fmt.Errorf("%w: %s is longer than %d bytes", store.ErrInvalid, name, store.MaxKeyLength)
	case !utf8.ValidString(key):
		return fmt.Errorf("%w: %s %q is not UTF-8", store.ErrInvalid, name, key)
	case strings.ContainsFunc(key, unicode.IsControl):
		return fmt.Errorf("%w: %s %q has a control character", store.ErrInvalid, name, key)
	}
	return nil
}

// key is a name and a value to be checked.
type key struct{ name, value string }

func checkKeys(required []key, optional ...key) error {
	for _, k := range required {
		if err := checkKey(k.name, k.value); err != nil {
			return err
		}
	}
	for _, k := range optional {
		if err := checkOptionalKey(k.name, k.value); err != nil {
			return err
		}
	}
	return nil
}

// behindPrefix returns the least text that sorts behind every text beginning
// with prefix, and false if there is none. Texts sort by their bytes, but the
// bound must itself be text, so the last character is raised, not the last byte.
func behindPrefix(prefix string) (string, bool) {
	for prefix != "" {
		last, size := utf8.DecodeLastRuneInString(prefix)
		prefix = prefix[:len(prefix)-size]
		if last == utf8.MaxRune {
			continue
		}
		next := last + 1
		if next == 0xD800 { // the surrogates are no characters
			next = 0xE000
		}
		return prefix + string(next), true
	}
	return "", false
}

// nilIfEmpty makes all engines answer alike.
func nilIfEmpty(b []byte) []byte {
	if len(b) == 0 {
		return nil
	}
	return b
}

// notNil gives an empty value for a missing one: no column of bytes is NULL.
func notNil(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}
