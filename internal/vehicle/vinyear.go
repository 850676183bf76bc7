package vehicle

import (
	"fmt"
	"strings"
)

// yearCodes are the 30 symbols of position 10, in order from 1980 and again
// from 2010: 49 CFR 565.15, Table VII. I, O, Q, U, Z and 0 are not used.
const yearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789"

const firstCodeYear = 1980

// YearCandidates returns the two model years, 30 years apart, that position 10
// can mean, or nil where the character is no year code. Outside North America
// position 10 need not be a model year at all.
func (v VIN) YearCandidates() []int {
	at := strings.IndexByte(yearCodes, v.YearCode)
	if at < 0 || v.YearCode == 0 {
		return nil
	}
	return []int{firstCodeYear + at, firstCodeYear + at + len(yearCodes)}
}

// LightVehicleYear narrows YearCandidates by position 7 (a digit before model
// year 2010, a letter from then on: 49 CFR 565.15(b)). It speaks only where the
// VIN begins with a North American region, and only for a passenger car, or a
// multipurpose vehicle or truck of 4,536 kg or less: the caller must know the
// class, and the note says so. It returns 0 and the reason where it cannot tell.
func (v VIN) LightVehicleYear() (year int, note string) {
	years := v.YearCandidates()
	switch {
	case years == nil:
		return 0, "position 10 is no year code"
	case v.Region != northAmerica:
		return 0, fmt.Sprintf("%d or %d, if position 10 is a model year at all: outside North America it need not be", years[0], years[1])
	case v.Text[6] >= '0' && v.Text[6] <= '9':
		year = years[0]
	default:
		year = years[1]
	}
	return year, fmt.Sprintf("%d, if it is a passenger car or a light vehicle of 4,536 kg (10,000 lb) or less; else %d or %d", year, years[0], years[1])
}
