package data

import (
	"embed"
	"io/fs"

	"crossbin/importers"
)

//go:embed words/*.csv
var wordFiles embed.FS

// Words gives the vocabulary of the importers: data/words.
func Words() (importers.Words, error) {
	files, err := fs.Sub(wordFiles, "words")
	if err != nil {
		return importers.Words{}, err
	}
	return importers.ParseWords(files)
}
