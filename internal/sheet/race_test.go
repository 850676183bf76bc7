//go:build race

package sheet

// underRace tells that the race detector is built in; it allocates for itself,
// so figures of memory say nothing then.
const underRace = true
