package importers

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"

	"crossbin/internal/app"
	"crossbin/internal/sheet"
	"crossbin/internal/statement"
)

// Options say how a file is read. Types and Words are needed.
type Options struct {
	Types   app.PartTypes
	Words   Words
	List    string           // name of the list; where nothing nearer names a part type it may
	Shop    string           // whose list it is; a source of that name is the shop itself
	Mapping map[string]Field // headings of this shop, before all others; "" leaves a column unused
	Look    int              // rows that Read looks at in each sheet; 0 is lookAhead
}

// check tells what is missing or unknown.
func (o Options) check() error {
	if o.Types == nil || o.Words.headings == nil {
		return errors.New("part types and words are needed to read a sheet")
	}
	for _, heading := range slices.Sorted(maps.Keys(o.Mapping)) {
		if f := o.Mapping[heading]; f != "" && (!isField(f) || f == AttributeOf) {
			return fmt.Errorf("heading %q is mapped to %q, which is no field; known are %s", heading, f, list(Fields()))
		}
	}
	return nil
}

// Reading is a file whose tables were recognised. Each hands out its rows.
type Reading struct {
	file   *sheet.File
	opt    Options
	tables []*Table
	memory *memory
}

// Read recognises the tables of a file from the first rows of each sheet; the
// rows themselves are read by Each. The errors are those of package sheet and
// of the context.
func Read(ctx context.Context, f *sheet.File, opt Options) (*Reading, error) {
	if err := opt.check(); err != nil {
		return nil, err
	}
	if opt.Look <= 0 {
		opt.Look = lookAhead
	}
	rd := &Reading{file: f, opt: opt, memory: newMemory()}
	for _, info := range f.Sheets() {
		if err := rd.look(ctx, info); err != nil {
			return nil, err
		}
	}
	return rd, nil
}

// Tables tells what was recognised, in the order of the file.
func (rd *Reading) Tables() []Table {
	out := make([]Table, len(rd.tables))
	for i, t := range rd.tables {
		out[i] = *t
	}
	return out
}

// errEnough ends a look at a sheet early.
var errEnough = errors.New("enough rows")

// look recognises the tables in the first rows of a sheet.
func (rd *Reading) look(ctx context.Context, info sheet.SheetInfo) error {
	s := rd.newSheet(info, func(r seenRow) error {
		if r.as == asHeading && (len(rd.tables) == 0 || rd.tables[len(rd.tables)-1] != r.table) {
			rd.tables = append(rd.tables, r.table)
		}
		return nil
	})
	n := 0
	err := rd.file.Rows(ctx, info.Name, func(r sheet.Row) error {
		if n++; n > rd.opt.Look {
			return errEnough
		}
		return s.push(r)
	})
	if err != nil && !errors.Is(err, errEnough) {
		return err
	}
	if err2 := s.end(); err2 != nil {
		return err2
	}
	if errors.Is(err, errEnough) && s.table != nil {
		s.table.More = true
	}
	return nil
}

// Each yields every row that stands in the file, in file order.
func (rd *Reading) Each(ctx context.Context, yield func(app.Row) error) error {
	for _, info := range rd.file.Sheets() {
		reader := &rowReader{rd: rd, types: rd.memory}
		s := rd.newSheet(info, func(r seenRow) error { return yield(reader.read(info.Name, r)) })
		if err := rd.file.Rows(ctx, info.Name, s.push); err != nil {
			return err
		}
		if err := s.end(); err != nil {
			return err
		}
	}
	return nil
}

func (rd *Reading) newSheet(info sheet.SheetInfo, emit func(seenRow) error) *sheetState {
	return &sheetState{info: info, find: newRecogniser(rd.opt), emit: emit}
}

// place is where a row stands.
func (rd *Reading) place(sheetName string, r sheet.Row) statement.Place {
	return statement.Place{File: rd.file.Name, Sheet: sheetName, Row: r.Number, Text: rowText(r, "\t")}
}
