package fulltext

import (
	"maps"
	"slices"
	"testing"
)

// The decision, whole: a change of it is a change of this table.
func TestActions(t *testing.T) {
	want := map[State]Action{
		"equal":           "use",
		"behind":          "catch up",
		"ahead":           "rebuild",
		"mapping_changed": "rebuild",
		"version":         "rebuild",
		"missing":         "rebuild",
		"corrupt":         "rebuild",
	}
	if !maps.Equal(actions, want) {
		t.Errorf("got %v, want %v", actions, want)
	}
	for _, s := range slices.Sorted(maps.Keys(want)) {
		if got := s.Action(); got != want[s] {
			t.Errorf("%s: got %q, want %q", s, got, want[s])
		}
	}
}

func TestJudge(t *testing.T) {
	program := header{documents: "1", mapping: "m"}
	tests := []struct {
		name  string
		found header
		docs  uint64
		book  int64
		want  State
	}{
		{"equal", header{"1", "m", 5, 7}, 7, 5, Equal},
		{"equal, not counted", header{"1", "m", 5, unknownCount}, 7, 5, Equal},
		{"behind", header{"1", "m", 4, 7}, 7, 5, Behind},
		{"ahead", header{"1", "m", 6, 7}, 7, 5, Ahead},
		{"documents lost", header{"1", "m", 5, 8}, 7, 5, Corrupt},
		{"documents lost counts before behind", header{"1", "m", 4, 8}, 7, 5, Corrupt},
		{"mapping changed counts before lost documents", header{"1", "n", 4, 8}, 7, 5, MappingChanged},
		{"version counts before all", header{"2", "n", 4, 8}, 7, 5, Version},
		{"no header at all", header{}, 0, 0, Version},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := judge(tt.found, program, tt.docs, tt.book); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}
