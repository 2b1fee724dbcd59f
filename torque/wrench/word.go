package wrench

import (
	"fmt"
	"strings"
)

// word returns the word for a value. An unknown value shows its number, so
// that one read from a newer record stays visible.
func word[E ~uint8](words []string, value E) string {
	if int(value) < len(words) {
		return words[value]
	}
	return fmt.Sprintf("unknown(%d)", value)
}

// wordText is word for MarshalText, which refuses what could not be read back.
func wordText[E ~uint8](what string, words []string, value E) ([]byte, error) {
	if int(value) >= len(words) {
		return nil, &FieldError{Rule: RuleUnknownWord, Text: fmt.Sprintf("%s %d has no name", what, value)}
	}
	return []byte(words[value]), nil
}

// parseWord finds a word exactly as it is written. Its error lists the words.
func parseWord[E ~uint8](what string, words []string, text string) (E, error) {
	var accepted []string
	for i, known := range words {
		if known == "" {
			continue
		}
		if known == text {
			return E(i), nil
		}
		accepted = append(accepted, known)
	}
	return 0, &FieldError{Rule: RuleUnknownWord,
		Text: fmt.Sprintf("unknown %s %s: write %s", what, clip(text), strings.Join(accepted, ", "))}
}

// clip quotes input for a message, at most 40 characters of it.
func clip(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
