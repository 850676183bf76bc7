package shelf

import (
	"testing"

	"crossbin/internal/part"
)

// Free covers only what is complete, tested or new, and here; what is held is
// not available.
func TestFree(t *testing.T) {
	tests := []struct {
		rule string
		line Line
		want int
	}{
		{"on hand less held", Line{Condition: New, OnHand: 3, Held: 1}, 2},
		{"never below zero", Line{Condition: New, OnHand: 1, Held: 2}, 0},
		{"a core is not stock", Line{Condition: Core, OnHand: 2}, 0},
		{"a suspect unit is not offered", Line{Condition: Quarantine, OnHand: 2}, 0},
		{"an incomplete unit is not offered", Line{Condition: Incomplete, OnHand: 2}, 0},
		{"an untested unit is not offered", Line{Condition: UsedUntested, OnHand: 2}, 0},
		{"tested", Line{Condition: UsedTested, OnHand: 2}, 2},
		{"no condition written down", Line{Condition: NotSaid, OnHand: 2}, 2},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			if got := tt.line.Free(); got != tt.want {
				t.Errorf("got %d, want %d", got, tt.want)
			}
		})
	}
}

func TestFreeSumsAndSorts(t *testing.T) {
	a, b := part.Ref{Key: "A"}, part.Ref{Key: "B"}
	lines := []Line{{Part: b, Bin: "B", Condition: New, OnHand: 1}, {Part: a, Bin: "A", Condition: Core, OnHand: 9}, {Part: a, Bin: "C", Condition: New, OnHand: 4},
		{Part: a, Bin: "B", Condition: New, OnHand: 1}}
	if got := Free(lines); got != 6 {
		t.Errorf("got %d, want 6", got)
	}
	Sort(lines)
	want := []Line{{Part: a, Bin: "C"}, {Part: a, Bin: "B"}, {Part: b, Bin: "B"}, {Part: a, Bin: "A"}}
	for i, l := range lines {
		if l.Bin != want[i].Bin || l.Part != want[i].Part {
			t.Errorf("%d: got %v %s, want %v %s", i, l.Part, l.Bin, want[i].Part, want[i].Bin)
		}
	}
}
