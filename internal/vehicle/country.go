package vehicle

import "strings"

// unknownPlace is what region and country say where the table has no entry. The
// registry is extended over time, so an unknown prefix is no error.
const unknownPlace = "unknown"

// wmiOrder is the order of characters within a range of ISO 3780.
const wmiOrder = "ABCDEFGHJKLMNPRSTUVWXYZ1234567890"

// wmiRange is a run of two-character prefixes that belongs to one country.
type wmiRange struct{ from, to, country string }

// wmiRanges are the commoner ranges of ISO 3780, as listed in the Wikibooks
// article "Vehicle Identification Numbers (VIN codes), World Manufacturer
// Identifier"; the standard itself was not read.
var wmiRanges = [...]wmiRange{
	{"AA", "AH", "South Africa"},
	{"JA", "J0", "Japan"},
	{"KL", "KR", "South Korea"},
	{"LA", "L0", "China"},
	{"MA", "ME", "India"},
	{"MF", "MK", "Indonesia"},
	{"ML", "MR", "Thailand"},
	{"PA", "PE", "Philippines"},
	{"PL", "PR", "Malaysia"},
	{"RF", "RG", "Taiwan"},
	{"SA", "SM", "United Kingdom"},
	{"SN", "ST", "Germany"},
	{"SU", "SZ", "Poland"},
	{"TJ", "TP", "Czech Republic"},
	{"TR", "TV", "Hungary"},
	{"VA", "VE", "Austria"},
	{"VF", "VR", "France"},
	{"VS", "VW", "Spain"},
	{"WA", "W0", "Germany"},
	{"XL", "XM", "Netherlands"},
	{"YA", "YE", "Belgium"},
	{"YF", "YK", "Finland"},
	{"YS", "YW", "Sweden"},
	{"ZA", "ZR", "Italy"},
	{"1A", "10", "United States"},
	{"2A", "20", "Canada"},
	{"3A", "30", "Mexico"},
	{"4A", "40", "United States"},
	{"5A", "50", "United States"},
	{"6A", "6W", "Australia"},
	{"7A", "7E", "New Zealand"},
	{"8A", "8E", "Argentina"},
	{"8F", "8J", "Chile"},
	{"9A", "9E", "Brazil"},
	{"93", "99", "Brazil"},
}

// regionOf names the region of the first character of a VIN (ISO 3780). A newer
// edit of the same article ends Africa at D; the older, wider range is kept.
func regionOf(first byte) string {
	switch {
	case first >= 'A' && first <= 'H':
		return "Africa"
	case first >= 'J' && first <= 'R':
		return "Asia"
	case first >= 'S' && first <= 'Z':
		return "Europe"
	case first >= '1' && first <= '5':
		return northAmerica
	case first == '6' || first == '7':
		return "Oceania"
	case first == '8' || first == '9' || first == '0':
		return "South America"
	}
	return unknownPlace
}

const northAmerica = "North America"

// countryOf names the country of the first two characters of a VIN, "unknown"
// where the table has none.
func countryOf(first, second byte) string {
	at := strings.IndexByte(wmiOrder, second)
	for _, r := range wmiRanges {
		if r.from[0] == first && at >= strings.IndexByte(wmiOrder, r.from[1]) && at <= strings.IndexByte(wmiOrder, r.to[1]) {
			return r.country
		}
	}
	return unknownPlace
}
