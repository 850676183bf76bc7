package part

import (
	"slices"
	"testing"
)

// Zeros that a spreadsheet took are suggested, never restored.
func TestLostZeros(t *testing.T) {
	for _, c := range []struct {
		name, key string
		want      []string
	}{
		{"a number that lost its first zero", "999123001", []string{"0999123001", "00999123001"}},
		{"a zero is still in front", "0999123001", nil},
		{"a letter in it: never taken for a number", "99912300A", nil},
		{"a shop's own short number", "12345", nil},
		{"more digits than a spreadsheet keeps", "1234567890123456", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := LostZeros(c.key); !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

// Only the one family that is printed both ways has twins.
func TestPaddingTwins(t *testing.T) {
	for _, c := range []struct {
		name, key string
		want      []string
	}{
		{"bare form", "A9TX0001", []string{"A009TX0001"}},
		{"padded form", "A009TX0001", []string{"A9TX0001"}},
		{"one zero", "A09TX0001", []string{"A9TX0001", "A009TX0001"}},
		{"with its last letters", "A9TX0001ZE", []string{"A009TX0001ZE"}},
		{"the starters' family", "M9T98765", nil},
		{"another number with zeros", "0099912300", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := PaddingTwins(c.key); !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}
