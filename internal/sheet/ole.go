package sheet

import (
	"bytes"
	"encoding/binary"
	"io"
	"unicode/utf16"
)

// oleMagic begins a compound file, the container of old workbooks and of
// encrypted new ones ([MS-CFB] 2.2).
const oleMagic = "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"

// oleEntry is the size of a directory entry, which is aligned to it
// ([MS-CFB] 2.6.1): the name in UTF-16 with a zero behind it, at byte 64 the
// length of the name with the zero in bytes, at byte 66 the kind, 2 for a stream.
const oleEntry = 128

// oleStreams finds which of the given streams a compound file has. It looks at
// every place where a directory entry can stand instead of following the file's
// own tables, which can be damaged.
func oleStreams(r io.Reader, names ...string) (map[string]bool, error) {
	wanted := map[string][]byte{}
	for _, name := range names {
		var b []byte
		for _, unit := range utf16.Encode([]rune(name + "\x00")) {
			b = binary.LittleEndian.AppendUint16(b, unit)
		}
		wanted[name] = b
	}
	found := map[string]bool{}
	var entry [oleEntry]byte
	for {
		_, err := io.ReadFull(r, entry[:])
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			return found, nil
		}
		if err != nil {
			return nil, err
		}
		if entry[66] != 2 {
			continue
		}
		for name, b := range wanted {
			if bytes.HasPrefix(entry[:], b) && int(binary.LittleEndian.Uint16(entry[64:])) == len(b) {
				found[name] = true
			}
		}
	}
}

// refuseOLE says what a compound file is; none of them can be read.
func refuseOLE(r io.Reader) error {
	found, err := oleStreams(r, "EncryptedPackage", "Workbook", "Book")
	switch {
	case err != nil:
		return err
	case found["EncryptedPackage"]:
		return refusal(Password, hintPassword, "the workbook is protected with a password")
	case found["Workbook"] || found["Book"]:
		return refusal(OldXLS, hintSaveAgain, "it is an old binary workbook (.xls)")
	}
	return refusal(NotASpreadsheet, "bring a workbook saved as .xlsx, or a .csv file", "it is an old office file of another kind, not a workbook")
}
