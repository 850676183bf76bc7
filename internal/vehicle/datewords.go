package vehicle

// kind is the kind of one token of a date. The value is the character that
// stands for it in a shape such as "9Y9M".
type kind byte

const (
	kNumber  kind = '9'
	kName    kind = 'A' // month name; value is the month
	kEra     kind = 'E' // era; value is the index in eras
	kYear    kind = 'Y'
	kMonth   kind = 'M'
	kDay     kind = 'D'
	kHalf    kind = 'h' // half of a year; value 1 or 2
	kQuarter kind = 'Q'
	kDash    kind = '-'
	kSlash   kind = '/'
	kDot     kind = '.'
	kComma   kind = ','
	kOpen    kind = '('
	kClose   kind = ')'
	kSpan    kind = '~' // from here to there
	kFrom    kind = 'f' // stands before a first date; value 1: after
	kTo      kind = 't' // stands before a last date; value 1: before
	kOn      kind = 'o' // stands after a first date
	kUntil   kind = 'u' // stands after a last date
	kUp      kind = 'U' // up: "up to 99", "96 and up"
	kAnd     kind = '&'
	kMore    kind = '>'
	kLess    kind = '<'
	kPart    kind = 'p' // early, mid, late: value 1, 2, 3
	kAbout   kind = 'a'
	kDoubt   kind = '?'
	kPhase   kind = 'v' // a version of the model: value 1 swallows a number
	kModel   kind = 'm' // model year
	kNoise   kind = 'n' // says only that a date follows
	kBad     kind = '!'
)

// word is what a token means before it is known where it stands.
type word struct {
	kind  kind
	value int
}

// latinWords are whole words in upper case, in the languages of the lists that
// shops get: English, German, Spanish, French, Italian, Russian. Common practice,
// no source.
var latinWords = map[string]word{
	"JAN": {kName, 1}, "JANUARY": {kName, 1}, "JANUAR": {kName, 1}, "ENE": {kName, 1}, "ENERO": {kName, 1}, "JANV": {kName, 1}, "JANVIER": {kName, 1}, "GEN": {kName, 1}, "GENNAIO": {kName, 1},
	"FEB": {kName, 2}, "FEBRUARY": {kName, 2}, "FEBRUAR": {kName, 2}, "FEBRERO": {kName, 2}, "FÉVR": {kName, 2}, "FÉV": {kName, 2}, "FEV": {kName, 2}, "FÉVRIER": {kName, 2}, "FEBBRAIO": {kName, 2},
	"MAR": {kName, 3}, "MARCH": {kName, 3}, "MÄRZ": {kName, 3}, "MAERZ": {kName, 3}, "MÄR": {kName, 3}, "MRZ": {kName, 3}, "MARZO": {kName, 3}, "MARS": {kName, 3},
	"APR": {kName, 4}, "APRIL": {kName, 4}, "ABR": {kName, 4}, "ABRIL": {kName, 4}, "AVR": {kName, 4}, "AVRIL": {kName, 4}, "APRILE": {kName, 4},
	"MAY": {kName, 5}, "MAI": {kName, 5}, "MAYO": {kName, 5}, "MAGGIO": {kName, 5}, "MAG": {kName, 5},
	"JUN": {kName, 6}, "JUNE": {kName, 6}, "JUNI": {kName, 6}, "JUNIO": {kName, 6}, "JUIN": {kName, 6}, "GIU": {kName, 6}, "GIUGNO": {kName, 6},
	"JUL": {kName, 7}, "JULY": {kName, 7}, "JULI": {kName, 7}, "JULIO": {kName, 7}, "JUIL": {kName, 7}, "JUILLET": {kName, 7}, "LUG": {kName, 7}, "LUGLIO": {kName, 7},
	"AUG": {kName, 8}, "AUGUST": {kName, 8}, "AGO": {kName, 8}, "AGOSTO": {kName, 8}, "AOÛT": {kName, 8}, "AOUT": {kName, 8},
	"SEP": {kName, 9}, "SEPT": {kName, 9}, "SEPTEMBER": {kName, 9}, "SEPTIEMBRE": {kName, 9}, "SEPTEMBRE": {kName, 9}, "SET": {kName, 9}, "SETTEMBRE": {kName, 9},
	"OCT": {kName, 10}, "OCTOBER": {kName, 10}, "OKT": {kName, 10}, "OKTOBER": {kName, 10}, "OCTUBRE": {kName, 10}, "OCTOBRE": {kName, 10}, "OTT": {kName, 10}, "OTTOBRE": {kName, 10},
	"NOV": {kName, 11}, "NOVEMBER": {kName, 11}, "NOVIEMBRE": {kName, 11}, "NOVEMBRE": {kName, 11},
	"DEC": {kName, 12}, "DECEMBER": {kName, 12}, "DEZ": {kName, 12}, "DEZEMBER": {kName, 12}, "DIC": {kName, 12}, "DICIEMBRE": {kName, 12}, "DÉC": {kName, 12}, "DÉCEMBRE": {kName, 12}, "DICEMBRE": {kName, 12},

	"M": {kEra, 0}, "T": {kEra, 1}, "S": {kEra, 2}, "H": {kEra, 3}, "R": {kEra, 4},
	"MEIJI": {kEra, 0}, "TAISHO": {kEra, 1}, "SHOWA": {kEra, 2}, "HEISEI": {kEra, 3}, "REIWA": {kEra, 4},
	"Q": {kQuarter, 0},

	"FROM": {kFrom, 0}, "SINCE": {kFrom, 0}, "AB": {kFrom, 0}, "VON": {kFrom, 0}, "SEIT": {kFrom, 0}, "DESDE": {kFrom, 0}, "DEPUIS": {kFrom, 0}, "DAL": {kFrom, 0}, "DEL": {kFrom, 0}, "ОТ": {kFrom, 0}, "С": {kFrom, 0}, "PARTIR": {kFrom, 0},
	"AFTER": {kFrom, 1}, "NACH": {kFrom, 1}, "POST": {kFrom, 1}, "APRÈS": {kFrom, 1},
	"TO": {kTo, 0}, "UNTIL": {kTo, 0}, "TILL": {kTo, 0}, "TIL": {kTo, 0}, "UPTO": {kTo, 0}, "THRU": {kTo, 0}, "THROUGH": {kTo, 0}, "BIS": {kTo, 0}, "HASTA": {kTo, 0}, "À": {kTo, 0}, "A": {kTo, 0}, "AL": {kTo, 0}, "JUSQU'À": {kTo, 0}, "JUSQU'EN": {kTo, 0}, "JUSQUE": {kTo, 0}, "FINO": {kTo, 0}, "ДО": {kTo, 0}, "ПО": {kTo, 0},
	"BEFORE": {kTo, 1}, "VOR": {kTo, 1}, "PRE": {kTo, 1}, "AVANT": {kTo, 1},
	"ON": {kOn, 0}, "ONWARD": {kOn, 0}, "ONWARDS": {kOn, 0}, "LATER": {kOn, 0}, "NEWER": {kOn, 0}, "PRESENT": {kOn, 0}, "NOW": {kOn, 0}, "CURRENT": {kOn, 0}, "HEUTE": {kOn, 0}, "HOY": {kOn, 0}, "ADELANTE": {kOn, 0},
	"EARLIER": {kUntil, 0}, "OLDER": {kUntil, 0},
	"UP": {kUp, 0}, "AND": {kAnd, 0}, "OR": {kAnd, 0}, "UND": {kAnd, 0},

	"EARLY": {kPart, 1}, "ANFANG": {kPart, 1}, "MID": {kPart, 2}, "MITTE": {kPart, 2}, "LATE": {kPart, 3}, "ENDE": {kPart, 3},
	"ABOUT": {kAbout, 0}, "APPROX": {kAbout, 0}, "CIRCA": {kAbout, 0}, "CA": {kAbout, 0}, "C": {kAbout, 0},
	"FACELIFT": {kPhase, 0}, "PREFACELIFT": {kPhase, 0}, "FL": {kPhase, 0}, "MK": {kPhase, 1}, "PHASE": {kPhase, 1},
	"MY": {kModel, 0}, "MODELLJAHR": {kModel, 0}, "MJ": {kModel, 0},
	"YEAR": {kNoise, 0}, "YEARS": {kNoise, 0}, "YR": {kNoise, 0}, "BUILT": {kNoise, 0}, "BAUJAHR": {kNoise, 0}, "BJ": {kNoise, 0}, "AÑO": {kNoise, 0}, "AÑOS": {kNoise, 0}, "ANNÉE": {kNoise, 0}, "DE": {kNoise, 0}, "OF": {kNoise, 0}, "THE": {kNoise, 0}, "Г": {kNoise, 0}, "ГОД": {kNoise, 0}, "EN": {kNoise, 0},
}

// eastWord is a piece of Japanese, Chinese or Korean text, which has no spaces.
type eastWord struct {
	text string
	word word
}

// eastWords are tried in this order: a longer piece stands before its beginning.
var eastWords = [...]eastWord{
	{"上半期", word{kHalf, 1}}, {"下半期", word{kHalf, 2}}, {"上期", word{kHalf, 1}}, {"下期", word{kHalf, 2}}, {"前半", word{kHalf, 1}}, {"後半", word{kHalf, 2}},
	{"前期型", word{kPhase, 0}}, {"中期型", word{kPhase, 0}}, {"後期型", word{kPhase, 0}}, {"前期", word{kPhase, 0}}, {"中期", word{kPhase, 0}}, {"後期", word{kPhase, 0}},
	{"年式", word{kYear, 0}}, {"年型", word{kYear, 0}}, {"年", word{kYear, 0}}, {"년", word{kYear, 0}},
	{"月", word{kMonth, 0}}, {"월", word{kMonth, 0}}, {"日", word{kDay, 0}}, {"일", word{kDay, 0}},
	{"元", word{kNumber, 1}},
	{"明治", word{kEra, 0}}, {"大正", word{kEra, 1}}, {"昭和", word{kEra, 2}}, {"平成", word{kEra, 3}}, {"令和", word{kEra, 4}},
	{"以降", word{kOn, 0}}, {"現在", word{kOn, 0}}, {"現行", word{kOn, 0}}, {"以後", word{kOn, 0}}, {"以后", word{kOn, 0}}, {"から", word{kOn, 0}}, {"より", word{kOn, 0}}, {"부터", word{kOn, 0}},
	{"以前", word{kUntil, 0}}, {"まで", word{kUntil, 0}}, {"迄", word{kUntil, 0}}, {"까지", word{kUntil, 0}},
	{"至", word{kSpan, 0}}, {"到", word{kSpan, 0}},
	{"頃", word{kAbout, 0}}, {"ごろ", word{kAbout, 0}}, {"約", word{kAbout, 0}},
}

// signs are single characters with a meaning of their own.
var signs = map[rune]kind{
	'-': kDash, '/': kSlash, '.': kDot, ',': kComma, '(': kOpen, ')': kClose, '~': kSpan, '→': kSpan, '⇒': kSpan,
	'>': kMore, '<': kLess, '+': kOn, '&': kAnd, '?': kDoubt, '≈': kAbout, 'ー': kDash, '≥': kMore, '≤': kLess, '、': kComma, '≧': kMore, '≦': kLess,
}
