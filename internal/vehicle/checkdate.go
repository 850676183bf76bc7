package vehicle

// Years outside these limits are not the year of a road vehicle: the first is a
// little before the first motor vehicles, the last the end of the century.
const (
	firstYear = 1860
	lastYear  = 2099
)

// checkDate refuses a year, month or day that does not exist; month and day
// are 0 where not given.
func checkDate(year, month, day int) error {
	switch {
	case year < firstYear || year > lastYear:
		return refuse(CodeInvalidDate, "write the year in four digits", "%d is not the year of a vehicle", year)
	case month < 0 || month > 12:
		return refuse(CodeInvalidDate, "write year and month as 1997-05", "there is no month %d", month)
	case day < 0 || day > 0 && (month == 0 || day > daysIn(year, month)):
		return refuse(CodeInvalidDate, "read the paper again", "there is no day %d in that month", day)
	}
	return nil
}
