package vehicle

import (
	"testing"

	"pgregory.net/rapid"
)

// UAX #15 (NFKC), checked with Unicode data, then our own rules for case,
// spaces and dashes.
func TestFold(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"full-width frame number", "ＳＶ３０－０１６９２６６", "SV30-0169266"},
		{"full-width designation", "ＤＢＡ－ＺＺ６", "DBA-ZZ6"},
		{"full-width number", "９８７６０－１５０４０", "98760-15040"},
		{"half-width kana", "ﾗｼﾞｴｰﾀ", "ラジエータ"},
		{"half-width kana, long vowel", "ｵﾙﾀﾈｰﾀｰ", "オルタネーター"},
		{"voiced mark composes", "ｶﾞ", "ガ"},
		{"circled, Roman, fraction", "①Ⅲ½", "1III1⁄2"},
		{"unit squares", "㏄", "CC"},
		{"era squares", "㍻㋿", "平成令和"},
		{"lower case", "zqx30-1234567", "ZQX30-1234567"},
		{"spaces at the ends", "\u00a0 zqx30　", "ZQX30"},
		{"runs of spaces", "a \t\u00a0 b\nc", "A B C"},
		{"plain runs of spaces", " a\t\n b ", "A B"},
		{"every dash", "A\u2010B\u2011C\u2012D\u2013E\u2014F\u2015G\u2212H\uff0dI\u2043J\u2500K", "A-B-C-D-E-F-G-H-I-J-K"},
		{"waves", "96〜97～98∼99", "96~97~98~99"},
		{"long vowel between ASCII", "ZQX30ー1234567", "ZQX30-1234567"},
		{"half-width long vowel between ASCII", "ZQX30ｰ1234567", "ZQX30-1234567"},
		{"long vowel with spaces", "ZQX30 ー 1234567", "ZQX30 - 1234567"},
		{"long vowel in a word", "スターター", "スターター"},
		{"long vowel after ASCII only", "Aーブ", "Aーブ"},
		{"soft hyphen between ASCII", "ZQX30\u00ad1234567", "ZQX30-1234567"},
		{"soft hyphen elsewhere", "オ\u00adル", "オル"},
		{"invisible characters", "\ufeffZQ\u200bX30\u2060\x00", "ZQX30"},
		{"not UTF-8", "A\xffB", "A\uFFFDB"},
		{"empty", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Fold(tt.in); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// Folding twice is folding once, so that folded text can be compared with text
// that was folded before.
func TestFoldIsIdempotent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		if once := Fold(s); Fold(once) != once {
			t.Fatalf("%q: got %q, then %q", s, once, Fold(once))
		}
	})
}

func FuzzFold(f *testing.F) {
	f.Add("ＺＱＸ３０ー1234567")
	f.Add("\u0345\u00adx")
	f.Fuzz(func(t *testing.T, s string) {
		if once := Fold(s); Fold(once) != once {
			t.Fatalf("%q: got %q, then %q", s, once, Fold(once))
		}
	})
}
