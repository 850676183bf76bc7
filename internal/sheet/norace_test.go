//go:build !race

package sheet

// underRace tells that the race detector is built in.
const underRace = false
