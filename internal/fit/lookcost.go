package fit

// What a look of each effort takes, in minutes, and the chance that it cannot be
// seen: our guess, from the scale (1 look or read, 2 torch, mirror or tape, 3
// calliper, meter or a cover off, 4 wheel or undertray off, 5 part out, and then
// it is in the hand).
var (
	effortMinutes = [...]float64{1: 1, 2: 2, 3: 8, 4: 30, 5: 90}
	effortHides   = [...]float64{1: .05, 2: .1, 3: .15, 4: .2, 5: .05}
)

func minutesOf(effort int) float64 { return effortMinutes[min(max(effort, 1), 5)] }
func cannotSee(effort int) float64 { return effortHides[min(max(effort, 1), 5)] }
