package query

import (
	"slices"
	"testing"
)

func TestWords(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"case and punctuation", "Alternator (12V/80A), new", []string{"alternator", "12v", "80a", "new"}},
		{"widths", "ＡＬＴ １２Ｖ", []string{"alt", "12v"}},
		{"accents", "générateur Kühler Генератор Ёмкость", []string{"generateur", "kuhler", "генератор", "емкость"}},
		{"sharp s", "Straße STRASSE", []string{"strasse", "strasse"}},
		{"pairs of characters", "冷却水ポンプ", []string{"冷却", "却水", "水ポ", "ポン", "ンプ"}},
		{"the long-vowel mark makes no difference", "オルタネーター オルタネータ", []string{"オル", "ルタ", "タネ", "ネタ", "オル", "ルタ", "タネ", "ネタ"}},
		{"half-width kana with voicing", "ﾎﾞﾙﾄ", []string{"ボル", "ルト"}},
		{"voicing is a letter of its own", "ハ バ", []string{"ハ", "バ"}},
		{"a lone character", "左 12", []string{"左", "12"}},
		{"scripts part from one another", "12Vオルタ", []string{"12v", "オル", "ルタ"}},
		{"Korean", "발전기", []string{"발전", "전기"}},
		{"the middle dot parts words", "ウォーター・ポンプ", []string{"ウォ", "ォタ", "ポン", "ンプ"}},
		{"marks alone", " - ・ ー ", nil},
		{"nothing", "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Words(tt.text); !slices.Equal(got, tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}
